package rig

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"leadmark/calib/input"
)

// Parse reads the text of rig.toml and checks every value. The name is the one that errors give
// the file; what is wrong is a *input.Error, the first one found of each kind.
func Parse(name string, text []byte) (Profile, error) {
	var file rigFile
	toml, err := input.DecodeStrict(name, text, &file)
	if err != nil {
		return Profile{}, err
	}
	c := &checker{toml: toml}
	p := Profile{
		Camera: c.camera(file.Camera),
		Lens:   c.lens(file.Lens),
		Trigger: Trigger{Beam: c.number("trigger.beam_mm", file.Trigger.BeamMM, 0, 1000) * 1e-3,
			Delay: c.number("trigger.delay_ms", file.Trigger.DelayMS, 0, 60000) * 1e-3,
			Class: c.oneOf("trigger.beam_class", file.Trigger.BeamClass, beamClasses()),
			Burst: c.positive("trigger.burst_hz", file.Trigger.BurstHz, 1e5)},
		Limits: Limits{
			MaxDrop:         c.positive("limits.max_drop_mm", file.Limits.MaxDropMM, 20000) * 1e-3,
			MaxDelay:        c.positive("limits.max_delay_ms", file.Limits.MaxDelayMS, 60000) * 1e-3,
			RecalibrateDays: c.positive("limits.recalibrate_days", file.Limits.RecalibrateDays, 36525),
			DayEnergy:       c.positive("limits.day_energy_j", file.Limits.DayEnergyJ, 1e7),
		},
	}
	names := map[string]bool{}
	for i, f := range file.Flash {
		h := c.head(fmt.Sprintf("flash[%d]", i), f)
		if h.Name != "" && names[h.Name] {
			c.fault(fmt.Sprintf("flash[%d].name", i), fmt.Sprintf("%q is the name of another head too", h.Name),
				"give each head a name of its own")
		}
		names[h.Name] = true
		p.Flash = append(p.Flash, h)
	}
	return p, c.err
}

// checker keeps the first fault.
type checker struct {
	toml input.TOMLFile
	err  error
}

func (c *checker) fault(key, what, hint string) {
	if c.err == nil {
		c.err = c.toml.Fault(key, what, hint)
	}
}

// number checks an optional value of low to high; 0 stands for one that is left out.
func (c *checker) number(key string, x *float64, low, high float64) float64 {
	switch {
	case x == nil:
		return 0
	case math.IsNaN(*x) || *x < low || *x > high:
		c.fault(key, fmt.Sprintf("is %v; it must lie between %v and %v", *x, low, high), "check the value and its unit")
		return 0
	}
	return *x
}

func (c *checker) positive(key string, x *float64, high float64) float64 {
	if x != nil && !(*x > 0) {
		c.fault(key, fmt.Sprintf("is %v; it must be above 0", *x), "check the value and its unit")
		return 0
	}
	return c.number(key, x, 0, high)
}

// oneOf checks an optional word.
func (c *checker) oneOf(key string, x *string, words []string) string {
	if x == nil {
		return ""
	}
	if !slices.Contains(words, *x) {
		c.fault(key, fmt.Sprintf("is %q; it is one of: %s", *x, strings.Join(words, ", ")),
			"leave it out where it is not known")
		return ""
	}
	return *x
}

// pair checks an optional list of two values above 0.
func (c *checker) pair(key string, x []float64, high float64, wants string) [2]float64 {
	if x == nil {
		return [2]float64{}
	}
	if len(x) != 2 {
		c.fault(key, fmt.Sprintf("has %d values, not two", len(x)), wants)
		return [2]float64{}
	}
	return [2]float64{c.positive(key, &x[0], high), c.positive(key, &x[1], high)}
}

func (c *checker) camera(f cameraFile) Camera {
	sensor := c.pair("camera.sensor_mm", f.SensorMM, 500, "give width and height, such as [23.5, 15.6]")
	camera := Camera{
		Sensor:  [2]float64{sensor[0] * 1e-3, sensor[1] * 1e-3},
		Sync:    c.positive("camera.sync_s", f.SyncS, 10),
		Shutter: c.oneOf("camera.shutter", f.Shutter, shutters()),
		SyncOn:  c.oneOf("camera.sync", f.Sync, curtains()),
	}
	if f.Pixels != nil {
		pixels := make([]float64, len(f.Pixels))
		for i, n := range f.Pixels {
			pixels[i] = float64(n)
		}
		p := c.pair("camera.pixels", pixels, 1e6, "give width and height, such as [6000, 4000]")
		camera.Pixels = [2]int{int(p[0]), int(p[1])}
	}
	if f.ISO != nil {
		iso := float64(*f.ISO)
		camera.ISO = int(c.positive("camera.iso", &iso, 1e7))
	}
	if f.AmbientEV100 != nil {
		ev := c.number("camera.ambient_ev100", f.AmbientEV100, -20, 25)
		camera.AmbientEV100 = &ev
	}
	return camera
}

func (c *checker) lens(f lensFile) Lens {
	l := Lens{
		Focal:   c.positive("lens.focal_mm", f.FocalMM, 5000) * 1e-3,
		Closest: c.positive("lens.closest_mm", f.ClosestMM, 1e5) * 1e-3,
		FNumber: c.pair("lens.f_numbers", f.FNumbers, 1000,
			"give the widest and the narrowest aperture, such as [2.8, 32]"),

		MaxMagnification:   c.positive("lens.max_magnification", f.MaxMagnification, 100),
		PupilMagnification: c.positive("lens.pupil_magnification", f.PupilMagnification, 20),
	}
	if l.FNumber[0] > l.FNumber[1] {
		c.fault("lens.f_numbers", "names the narrowest aperture first",
			"the widest aperture has the smaller f-number: [2.8, 32]")
	}
	return l
}

func (c *checker) head(at string, f flashFile) Head {
	h := Head{
		GuideNumber: c.positive(at+".guide_number_m", f.GuideNumberM, 1000),
		Distance:    c.positive(at+".distance_mm", f.DistanceMM, 1e5) * 1e-3,
		Loss:        c.number(at+".loss_stops", f.LossStops, 0, 20),
		T01:         c.durations(at+".t01_us", f.T01US),
		T05:         c.durations(at+".t05_us", f.T05US),
		Energy:      c.positive(at+".energy_j", f.EnergyJ, 1e5),
		Recycle:     c.positive(at+".recycle_s", f.RecycleS, 3600),
	}
	if f.Name != nil {
		h.Name = *f.Name
	}
	if f.Lights != nil {
		h.Lights = Lights(*f.Lights)
		if h.Lights != Subject && h.Lights != Rim && h.Lights != Backdrop {
			c.fault(at+".lights", fmt.Sprintf("is %q; it is subject, rim or backdrop", *f.Lights), "")
		}
	}
	if f.Power != nil {
		h.Power = c.power(at+".power", *f.Power)
	}
	if f.Powers != nil {
		if len(f.Powers) != 2 {
			c.fault(at+".powers", fmt.Sprintf("has %d values, not two", len(f.Powers)),
				`give the highest and the lowest power, such as ["1/1", "1/128"]`)
			return h
		}
		h.Range = [2]float64{c.power(at+".powers", f.Powers[0]), c.power(at+".powers", f.Powers[1])}
		if h.Range[0] < h.Range[1] {
			c.fault(at+".powers", "names the lowest power first", `give the highest first: ["1/1", "1/128"]`)
		}
		if h.Power != 0 && (h.Power > h.Range[0]*(1+1e-9) || h.Power < h.Range[1]*(1-1e-9)) {
			c.fault(at+".power", fmt.Sprintf("is %s, outside powers", *f.Power), "")
		}
	}
	return h
}

func (c *checker) power(key, text string) float64 {
	p, ok := ParsePower(text)
	if !ok {
		c.fault(key, fmt.Sprintf("is %q, which is not a power", text), `write a fraction of full power such as "1/64"`)
	}
	return p
}

// ParsePower reads a flash power such as "1/64" as a share of full power, above 0 and up to 1.
func ParsePower(text string) (share float64, ok bool) {
	over, under, fraction := strings.Cut(strings.TrimSpace(text), "/")
	a, err := strconv.ParseFloat(strings.TrimSpace(over), 64)
	if err != nil {
		return 0, false
	}
	b := 1.0
	if fraction {
		if b, err = strconv.ParseFloat(strings.TrimSpace(under), 64); err != nil {
			return 0, false
		}
	}
	p := a / b
	return p, a > 0 && b > 0 && p > 0 && p <= 1
}

func (c *checker) durations(key string, table map[string]float64) []Duration {
	var all []Duration
	powers := make([]string, 0, len(table))
	for p := range table {
		powers = append(powers, p)
	}
	sort.Strings(powers) // so that the same fault is named each time
	for _, power := range powers {
		us := table[power]
		all = append(all, Duration{Power: c.power(key, power), Seconds: c.positive(key, &us, 1e7) * 1e-6})
	}
	sort.Slice(all, func(i, j int) bool { return all[i].Power > all[j].Power })
	for i := 1; i < len(all); i++ {
		if all[i].Power == all[i-1].Power {
			c.fault(key, "states one power twice", "")
		}
	}
	return all
}
