package calib

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"leadmark/ruler"
)

// source knows where each value of a run was stated: in run.toml or by a flag.
type source struct {
	file  TOMLFile
	flags map[string]string
	wrong faults
}

func (s *source) fault(key, what, hint string) {
	if flag := s.flags[key]; flag != "" {
		s.wrong.add(&InputError{File: flag, What: what, Hint: hint})
		return
	}
	s.wrong.add(s.file.Fault(key, what, hint))
}

// parseRun decodes run.toml's text, nil where there is no such file, and checks every value.
// The name is the one that errors give the file.
func parseRun(name string, text []byte, o Overrides) (Run, error) {
	var file RunFile
	toml, err := DecodeStrict(name, text, &file)
	if err != nil {
		return Run{}, err
	}
	flags, err := o.apply(&file)
	if err != nil {
		return Run{}, err
	}
	if text == nil && file.Method == nil {
		return Run{}, &InputError{File: filepath.Dir(name), What: "there is no run.toml that says how the frames were made",
			Hint: "leadmark calibrate " + filepath.Dir(name) + " --start writes one to fill in; or give --method and the other flags"}
	}
	s := &source{file: toml, flags: flags}
	r := Run{}
	s.top(&r, file, o)
	if file.Ruler != nil {
		s.ruler(&r, *file.Ruler)
	}
	if t := file.Trip; t != nil && (t.LinePX != nil || t.Still != nil || t.UMM != nil) {
		s.trip(&r, *file.Trip, o)
	}
	r.Defaults = Conditions{Gravity: StandardGravity, GravityU: StandardGravityU}
	if file.Conditions != nil {
		s.conditions(&r, *file.Conditions)
	}
	return r, s.wrong.err(name)
}

func (s *source) top(r *Run, f RunFile, o Overrides) {
	if f.Rig != nil {
		r.Rig = *f.Rig
	}
	if f.Method != nil {
		r.Method = Method(*f.Method)
	}
	switch {
	case f.Method == nil || *f.Method == "":
		s.fault("method", "is not stated", `add method = "drop" (let fall through the beam) or method = "push" (moved by hand or carriage)`)
	case r.Method != Drop && r.Method != Push:
		s.fault("method", fmt.Sprintf("is %q; it is drop or push", *f.Method), "drop: let fall through the beam; push: moved by hand or carriage")
	}
	if f.Travel != nil {
		r.Travel = Travel(*f.Travel)
	}
	switch r.Travel {
	case Down, Up, Left, Right:
	case "":
		if !o.ByHand || f.Travel != nil {
			s.fault("travel", "is not stated", `add travel = "down", "up", "left" or "right": the way the front end moves in the picture`)
		}
	default:
		s.fault("travel", fmt.Sprintf("is %q; it is down, up, left or right", *f.Travel), "the way the front end moves in the picture as displayed")
	}
}

func (s *source) ruler(r *Run, f RulerFile) {
	r.Ruler.Graduation = s.number("ruler.graduation_mm", f.GraduationMM, above(0, 100)) * 1e-3
	if f.FrontMM != nil {
		front := s.number("ruler.front_mm", f.FrontMM, between(-5000, 5000)) * 1e-3
		r.Ruler.Front = &front
	}
	r.Ruler.TwinFlash = s.number("ruler.twin_ms", f.TwinMS, above(0, 1000)) * 1e-3
	mark := "front"
	if f.Mark != nil {
		mark = *f.Mark
	}
	switch mark {
	case "front":
		if f.BandMM != nil {
			s.fault("ruler.band_mm", `is stated, but the mark to find is the front end`, `add mark = "band" to find the band, or take band_mm out`)
		}
	case "band":
		r.Ruler.Band = true
		if f.TwinMS != nil {
			s.fault("ruler.twin_ms", "is stated, but the mark to find is a band: the speed is taken from two front ends", `take mark and band_mm out, or take twin_ms out and fire one flash`)
		}
		if f.BandMM == nil {
			s.fault("ruler.mark", "is band, but band_mm is not stated", "add band_mm, the reading at the band's leading edge in millimetres")
		}
		r.Ruler.BandAt = s.number("ruler.band_mm", f.BandMM, between(-5000, 5000)) * 1e-3
	default:
		s.fault("ruler.mark", fmt.Sprintf("is %q; it is front or band", mark), "")
	}
}

func (s *source) trip(r *Run, f TripFile, o Overrides) {
	t := &TripSpec{U: s.number("trip.u_mm", f.UMM, between(0, 1000)) * 1e-3}
	r.Trip = t
	if f.Still != nil {
		t.Still = *f.Still
		s.frameName("trip.still", t.Still)
	}
	if f.LinePX != nil {
		t.Line = s.line("trip.line_px", f.LinePX)
	}
	switch {
	case f.Still != nil && f.LinePX != nil:
		s.fault("trip.still", "and line_px both say where the beam trips", "keep the one you trust more")
	case f.Still == nil && f.LinePX == nil && !o.ByHand:
		s.fault("trip", "has neither line_px nor still", "give one of them, or take [trip] out")
	}
}

func (s *source) frameName(key, name string) {
	if name == "" || name != filepath.Base(name) || strings.ContainsAny(name, `/\`) || name == ".." || name == "." {
		s.fault(key, fmt.Sprintf("is %q, which is not the name of a frame", name), "give the name of a frame in this folder, without a folder before it")
	}
}

// line checks a line of two different points. It returns nil where the value is wrong.
func (s *source) line(key string, p [][]float64) *ruler.Line {
	wants := "give two different points across the track, such as [[2010, 0], [2010, 3999]]"
	if len(p) != 2 || len(p[0]) != 2 || len(p[1]) != 2 {
		s.fault(key, "is not two points of two numbers", wants)
		return nil
	}
	for _, x := range []float64{p[0][0], p[0][1], p[1][0], p[1][1]} {
		if math.IsNaN(x) || math.Abs(x) > 1e6 {
			s.fault(key, "lies outside any picture", wants)
			return nil
		}
	}
	l := ruler.Line{A: ruler.Point{X: p[0][0], Y: p[0][1]}, B: ruler.Point{X: p[1][0], Y: p[1][1]}}
	if l.B.Sub(l.A).Len() < 1 {
		s.fault(key, "is a line of two equal points", wants)
		return nil
	}
	return &l
}

func (s *source) conditions(r *Run, f ConditionsFile) {
	c := &r.Defaults
	at := func(key string) string { return "conditions." + key }
	c.Drop = s.number(at("drop_mm"), f.DropMM, dropRange()) * 1e-3
	c.Speed = s.number(at("speed_mps"), f.SpeedMPS, speedRange())
	c.Delay = s.number(at("delay_ms"), f.DelayMS, delayRange()) * 1e-3
	c.DropU = s.number(at("u_drop_mm"), f.UDropMM, between(0, 1000)) * 1e-3
	c.DropShotU = s.number(at("u_drop_shot_mm"), f.UDropShotMM, between(0, 1000)) * 1e-3
	c.DropCommonU = s.number(at("u_drop_common_mm"), f.UDropCommonMM, between(0, 1000)) * 1e-3
	c.SpeedU = s.number(at("u_speed_mps"), f.USpeedMPS, between(0, 100))
	c.SpeedRepeat = s.number(at("speed_repeat"), f.SpeedRepeat, between(0, 1))
	if r.Method == Drop && f.SpeedMPS != nil {
		s.fault(at("speed_mps"), "is stated, but method is drop", `a drop's speed follows from drop_mm; or write method = "push"`)
	}
	if r.Method == Push && f.DropMM != nil {
		s.fault(at("drop_mm"), "is stated, but method is push", `a push has a speed_mps; or write method = "drop"`)
	}
	s.gravity(c, f)
}

func (s *source) gravity(c *Conditions, f ConditionsFile) {
	g := s.number("conditions.gravity_mps2", f.GravityMPS2, between(9.7, 9.9))
	lat := s.number("conditions.latitude_deg", f.LatitudeDeg, between(-90, 90)) * math.Pi / 180
	height := s.number("conditions.height_m", f.HeightM, between(-500, 9000))
	switch {
	case f.GravityMPS2 != nil && f.LatitudeDeg != nil:
		s.fault("conditions.latitude_deg", "and gravity_mps2 both say how strong gravity is", "keep the one you trust more")
	case f.GravityMPS2 != nil && f.HeightM != nil:
		s.fault("conditions.height_m", "is not used when gravity_mps2 is stated", "take it out; the fall is drop_mm")
	case f.GravityMPS2 != nil:
		c.Gravity, c.GravityU = g, 0
	case f.LatitudeDeg != nil:
		c.Gravity, c.GravityU = NormalGravity(lat, height), NormalGravityU
	case f.HeightM != nil:
		s.fault("conditions.height_m", "is stated without latitude_deg", "height_m is the place's height above the sea and needs latitude_deg; the fall is drop_mm")
	}
}
