package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"syscall"
	"time"

	"leadmark/calib/plan"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/calib/rig"
	"leadmark/scripts/claim"
)

// mostPlan is what docs/plan.md promises: times the processor time of NumPy.
const mostPlan = 2.5

// plan times a whole plan, with default settings, against NumPy drawing the same number of the same
// trips and counting which lie inside the plan's own box.
func (o options) plan(s *claim.Study) error {
	plans := plans()
	for _, name := range slices.Sorted(maps.Keys(plans)) {
		b := bench{o.python, "scripts/benchmark/draws.py", orElse(o.turns, 7)}
		t, inside, err := b.compare(plans[name])
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		show("plan, lag "+name, middle(t.a, cpu).In("ms", 1e-3))
		show("NumPy, lag "+name, middle(t.b, cpu).In("ms", 1e-3))
		s.Hold("plan to NumPy, processor time, lag "+name, t.ratio(cpu), claim.AtMost(mostPlan))
		p := plans[name].Options.Probability
		s.Hold("NumPy's share inside the reach, lag "+name, inside, claim.Between(p-0.003, p+0.003))
	}
	return nil
}

// plans are by a measured and an assumed lag, straight and hopping.
func plans() map[string]plan.Request {
	const rad = 0.017453292519943295
	bee := subject.Subject{Length: 0.012, Height: 0.006, Width: 0.008, Motion: subject.Straight, Speed: 1.2,
		SpeedSD: 0.3, Elevation: 5 * rad, ElevationSD: 8 * rad, AzimuthSD: 6 * rad, Exit: [2]float64{0.01, 0.01},
		FocusOn: subject.FocusBody}
	hop := bee
	hop.Motion, hop.Elevation, hop.Speed = subject.Hop, 45*rad, 3
	measured := predict.Law{Mean: 0.0523, Scale: 0.00085, DF: 17, Spread: 0.0008, MeanU: 0.0002}
	set := rig.Profile{Camera: rig.Camera{Sensor: [2]float64{0.0235, 0.0156}, Pixels: [2]int{6000, 4000},
		Sync: 0.005, ISO: 200}, Lens: rig.Lens{Focal: 0.1, FNumber: [2]float64{2.8, 32}},
		Flash: []rig.Head{{Name: "key", Lights: rig.Subject, GuideNumber: 40, Distance: 0.3,
			Range: [2]float64{1, 1.0 / 128}, T01: []rig.Duration{{Power: 1.0 / 32, Seconds: 85e-6},
				{Power: 1.0 / 64, Seconds: 45e-6}, {Power: 1.0 / 128, Seconds: 30e-6}}}}}
	return map[string]plan.Request{
		"measured": {Rig: set, Subject: bee, Lag: measured, Options: plan.DefaultOptions()},
		"assumed":  {Rig: set, Subject: hop, Lag: predict.AssumedLag(0.0523, 0.0008), Options: plan.DefaultOptions()},
	}
}

// bench is NumPy.
type bench struct {
	python, script string
	turns          int
}

// best is how often each side does its work in a turn; the best counts.
const best = 3

// compare lets a plan and NumPy take turns, and says which share of all trips NumPy finds inside.
func (b bench) compare(req plan.Request) (t turns, inside claim.Figure, err error) {
	dir, err := os.MkdirTemp("", "benchmark-")
	if err != nil {
		return t, inside, err
	}
	defer os.RemoveAll(dir)
	p, err := plan.Make(req)
	if err != nil {
		return t, inside, err
	}
	if p.Drawn < req.Options.Draws {
		return t, inside, fmt.Errorf("the plan drew %d trips; %d were asked for", p.Drawn, req.Options.Draws)
	}
	drawn, held := 0, 0
	t, err = turnAbout(b.turns, func() (took, error) { return planned(req, p.Drawn) }, func() (took, error) {
		r, err := b.numpy(filepath.Join(dir, "case.json"), p)
		if want := best * p.Drawn; err == nil && r.Draws != want {
			err = fmt.Errorf("NumPy drew %d trips, not %d", r.Draws, want)
		}
		drawn, held = drawn+r.Draws, held+r.Held
		return took{cpu: r.CPU, clock: r.Seconds}, err
	})
	return t, claim.Share(held, drawn), err
}

// planned is the best of some plans, each of which must draw as many trips.
func planned(req plan.Request, trips int) (least took, err error) {
	for i := range best {
		start, begun := time.Now(), processor()
		p, err := plan.Make(req)
		if err != nil {
			return least, err
		}
		if p.Drawn != trips {
			return least, errors.New("the same plan drew another number of trips")
		}
		t := took{cpu: processor() - begun, clock: time.Since(start).Seconds()}
		if i == 0 || t.cpu < least.cpu {
			least = t
		}
	}
	return least, nil
}

// processor is the time this process has had of the processor, s.
func processor() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) * 1e-9
}

// numpyResult is what draws.py prints.
type numpyResult struct {
	Seconds, CPU float64
	Held, Draws  int
}

// numpy draws as many trips as the plan did.
func (b bench) numpy(path string, p plan.Plan) (r numpyResult, err error) {
	s, l := p.Request.Subject, p.Request.Lag
	text, err := json.Marshal(map[string]any{
		"lag": l.Mean, "scale": l.Scale, "df": l.DF, "delay": p.Delay, "speed": s.Speed, "speed_sd": s.SpeedSD,
		"elevation": s.Elevation, "elevation_sd": s.ElevationSD, "azimuth_sd": s.AzimuthSD,
		"exit": s.Exit, "motion": s.Motion, "behind_nose": s.BehindNose, "length": s.Length, "height": s.Height,
		"width": s.Width,
		"along": p.Reach.Along, "up": p.Reach.Up, "depth": p.Reach.Depth, "seed": 5, "repeats": best,
		"draws": p.Drawn, "chunk": 1 << 14})
	if err != nil {
		return r, err
	}
	if err := os.WriteFile(path, text, 0o666); err != nil {
		return r, err
	}
	_, out, err := timed(exec.Command(b.python, b.script, path))
	if err != nil {
		return r, err
	}
	err = json.Unmarshal(out, &r)
	return r, err
}
