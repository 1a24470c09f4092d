package runfile

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"leadmark/calib/input"
	"leadmark/vision/ruler"
)

// source knows where each value of a run was stated: in run.toml or by a flag.
type source struct{ input.Source }

// parseRun decodes run.toml's text, nil where there is no such file, and checks every value.
// The name is the one that errors give the file.
func parseRun(name string, text []byte, o Overrides) (Run, error) {
	var file File
	toml, err := input.DecodeStrict(name, text, &file)
	if err != nil {
		return Run{}, err
	}
	flags, err := o.Apply(&file)
	if err != nil {
		return Run{}, err
	}
	if text == nil && file.Method == nil {
		return Run{}, &input.Error{File: filepath.Dir(name),
			What: "there is no run.toml that says how the frames were made",
			Hint: "leadmark calibrate " + filepath.Dir(name) +
				" --start writes one to fill in; or give --method and the other flags"}
	}
	s := &source{input.Source{File: toml, Flags: flags}}
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
	return r, s.Wrong.Err(name)
}

func (s *source) top(r *Run, f File, o Overrides) {
	if f.Rig != nil {
		r.Rig = *f.Rig
	}
	if f.Method != nil {
		r.Method = Method(*f.Method)
	}
	switch {
	case f.Method == nil || *f.Method == "":
		s.Fault("method", "is not stated",
			`add method = "drop" (let fall through the beam) or method = "push" (moved by hand or carriage)`)
	case r.Method != Drop && r.Method != Push:
		s.Fault("method", fmt.Sprintf("is %q; it is drop or push", *f.Method),
			"drop: let fall through the beam; push: moved by hand or carriage")
	}
	if f.Travel != nil {
		r.Travel = Travel(*f.Travel)
	}
	switch r.Travel {
	case Down, Up, Left, Right:
	case "":
		if !o.ByHand || f.Travel != nil {
			s.Fault("travel", "is not stated",
				`add travel = "down", "up", "left" or "right": the way the front end moves in the picture`)
		}
	default:
		s.Fault("travel", fmt.Sprintf("is %q; it is down, up, left or right", *f.Travel),
			"the way the front end moves in the picture as displayed")
	}
}

func (s *source) ruler(r *Run, f RulerFile) {
	r.Ruler.Graduation = s.Number("ruler.graduation_mm", f.GraduationMM, input.Above(0, 100)) * 1e-3
	if f.FrontMM != nil {
		front := s.Number("ruler.front_mm", f.FrontMM, input.Between(-5000, 5000)) * 1e-3
		r.Ruler.Front = &front
	}
	r.Ruler.TwinFlash = s.Number("ruler.twin_ms", f.TwinMS, input.Above(0, 1000)) * 1e-3
	mark := "front"
	if f.Mark != nil {
		mark = *f.Mark
	}
	switch mark {
	case "front":
		if f.BandMM != nil {
			s.Fault("ruler.band_mm", `is stated, but the mark to find is the front end`,
				`add mark = "band" to find the band, or take band_mm out`)
		}
	case "band":
		r.Ruler.Band = true
		if f.TwinMS != nil {
			s.Fault("ruler.twin_ms", "is stated, but the mark to find is a band: the speed is taken from two "+
				"front ends", `take mark and band_mm out, or take twin_ms out and fire one flash`)
		}
		if f.BandMM == nil {
			s.Fault("ruler.mark", "is band, but band_mm is not stated",
				"add band_mm, the reading at the band's leading edge in millimetres")
		}
		r.Ruler.BandAt = s.Number("ruler.band_mm", f.BandMM, input.Between(-5000, 5000)) * 1e-3
	default:
		s.Fault("ruler.mark", fmt.Sprintf("is %q; it is front or band", mark), "")
	}
}

func (s *source) trip(r *Run, f TripFile, o Overrides) {
	t := &TripSpec{U: s.Number("trip.u_mm", f.UMM, input.Between(0, 1000)) * 1e-3}
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
		s.Fault("trip.still", "and line_px both say where the beam trips", "keep the one you trust more")
	case f.Still == nil && f.LinePX == nil && !o.ByHand:
		s.Fault("trip", "has neither line_px nor still", "give one of them, or take [trip] out")
	}
}

func (s *source) frameName(key, name string) {
	if name == "" || name != filepath.Base(name) || strings.ContainsAny(name, `/\`) || name == ".." || name == "." {
		s.Fault(key, fmt.Sprintf("is %q, which is not the name of a frame", name),
			"give the name of a frame in this folder, without a folder before it")
	}
}

// line checks a line of two different points. It returns nil where the value is wrong.
func (s *source) line(key string, p [][]float64) *ruler.Line {
	wants := "give two different points across the track, such as [[2010, 0], [2010, 3999]]"
	if len(p) != 2 || len(p[0]) != 2 || len(p[1]) != 2 {
		s.Fault(key, "is not two points of two numbers", wants)
		return nil
	}
	for _, x := range []float64{p[0][0], p[0][1], p[1][0], p[1][1]} {
		if math.IsNaN(x) || math.Abs(x) > 1e6 {
			s.Fault(key, "lies outside any picture", wants)
			return nil
		}
	}
	l := ruler.Line{A: ruler.Point{X: p[0][0], Y: p[0][1]}, B: ruler.Point{X: p[1][0], Y: p[1][1]}}
	if l.B.Sub(l.A).Len() < 1 {
		s.Fault(key, "is a line of two equal points", wants)
		return nil
	}
	return &l
}

func (s *source) conditions(r *Run, f ConditionsFile) {
	c := &r.Defaults
	at := func(key string) string { return "conditions." + key }
	c.Drop = s.Number(at("drop_mm"), f.DropMM, dropRange()) * 1e-3
	c.Speed = s.Number(at("speed_mps"), f.SpeedMPS, speedRange())
	c.Delay = s.Number(at("delay_ms"), f.DelayMS, delayRange()) * 1e-3
	c.DropU = s.Number(at("u_drop_mm"), f.UDropMM, input.Between(0, 1000)) * 1e-3
	c.DropShotU = s.Number(at("u_drop_shot_mm"), f.UDropShotMM, input.Between(0, 1000)) * 1e-3
	c.DropCommonU = s.Number(at("u_drop_common_mm"), f.UDropCommonMM, input.Between(0, 1000)) * 1e-3
	c.SpeedU = s.Number(at("u_speed_mps"), f.USpeedMPS, input.Between(0, 100))
	c.SpeedRepeat = s.Number(at("speed_repeat"), f.SpeedRepeat, input.Between(0, 1))
	if r.Method == Drop && f.SpeedMPS != nil {
		s.Fault(at("speed_mps"), "is stated, but method is drop",
			`a drop's speed follows from drop_mm; or write method = "push"`)
	}
	if r.Method == Push && f.DropMM != nil {
		s.Fault(at("drop_mm"), "is stated, but method is push", `a push has a speed_mps; or write method = "drop"`)
	}
	s.gravity(c, f)
}

func (s *source) gravity(c *Conditions, f ConditionsFile) {
	g := s.Number("conditions.gravity_mps2", f.GravityMPS2, input.Between(9.7, 9.9))
	lat := s.Number("conditions.latitude_deg", f.LatitudeDeg, input.Between(-90, 90)) * math.Pi / 180
	height := s.Number("conditions.height_m", f.HeightM, input.Between(-500, 9000))
	switch {
	case f.GravityMPS2 != nil && f.LatitudeDeg != nil:
		s.Fault("conditions.latitude_deg", "and gravity_mps2 both say how strong gravity is",
			"keep the one you trust more")
	case f.GravityMPS2 != nil && f.HeightM != nil:
		s.Fault("conditions.height_m", "is not used when gravity_mps2 is stated", "take it out; the fall is drop_mm")
	case f.GravityMPS2 != nil:
		c.Gravity, c.GravityU = g, 0
	case f.LatitudeDeg != nil:
		c.Gravity, c.GravityU = NormalGravity(lat, height), NormalGravityU
	case f.HeightM != nil:
		s.Fault("conditions.height_m", "is stated without latitude_deg",
			"height_m is the place's height above the sea and needs latitude_deg; the fall is drop_mm")
	}
}
