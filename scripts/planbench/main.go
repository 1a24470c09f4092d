// Planbench times a whole plan, with default settings, against NumPy drawing the same number of the
// same trips and counting which lie inside the plan's own box: side by side and in turns, so that a
// busy machine slows both alike. It prints the ratio of the best times, by the clock and of the
// processor (all threads together), and the share that NumPy finds inside. The status is 1 where a
// plan takes more of the processor's time than a share of NumPy's: more turns help on a busy
// machine.
//
//	go run ./scripts/planbench [-rounds 7] [-most 0.5] [-python python3]
//
// It needs Python with NumPy (Debian: python3-numpy).
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"time"

	"leadmark/calib/plan"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/calib/rig"
)

func main() {
	rounds := flag.Int("rounds", 7, "turns that each takes")
	most := flag.Float64("most", 0.5, "share of NumPy's processor time that a plan may take")
	python := flag.String("python", "/usr/bin/python3", "a Python that has NumPy")
	flag.Parse()
	slow := false
	for name, req := range cases() {
		r, err := compare(req, bench{*python, "scripts/planbench/draws.py", *rounds})
		if err != nil {
			fmt.Fprintln(os.Stderr, "error:", err)
			os.Exit(1)
		}
		fmt.Printf("%-9s %d trips: plan %.0f ms, NumPy %.0f ms, ratio %.2f; processor time %.0f ms, %.0f ms, "+
			"ratio %.2f; NumPy finds %.4f inside the reach of %.2f\n",
			name, r.trips, r.plan.clock*1e3, r.numpy.clock*1e3, r.plan.clock/r.numpy.clock, r.plan.cpu*1e3,
			r.numpy.cpu*1e3, r.plan.cpu/r.numpy.cpu, r.inside, req.Options.Probability)
		slow = slow || r.plan.cpu > *most*r.numpy.cpu
	}
	if slow {
		fmt.Fprintf(os.Stderr, "error: a plan takes more than %g of NumPy's processor time\n", *most)
		os.Exit(1)
	}
}

// cases are a measured and an assumed lag, straight and hopping.
func cases() map[string]plan.Request {
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

type bench struct {
	python, script string
	rounds         int
}

// spent is time in seconds, by the clock and of the processor.
type spent struct{ clock, cpu float64 }

func (s spent) least(clock, cpu float64) spent { return spent{min(s.clock, clock), min(s.cpu, cpu)} }

type result struct {
	trips       int
	plan, numpy spent
	inside      float64
}

// compare lets both take turns and keeps the best time of each.
func compare(req plan.Request, b bench) (result, error) {
	dir, err := os.MkdirTemp("", "planbench-")
	if err != nil {
		return result{}, err
	}
	defer os.RemoveAll(dir)
	r := result{plan: spent{1e9, 1e9}, numpy: spent{1e9, 1e9}}
	for range b.rounds {
		var p plan.Plan
		for range 3 { // as often as NumPy is let
			t, c := time.Now(), processor()
			if p, err = plan.Make(req); err != nil {
				return r, err
			}
			r.plan = r.plan.least(time.Since(t).Seconds(), processor()-c)
		}
		r.trips = p.Drawn
		n, err := b.numpy(filepath.Join(dir, "case.json"), p)
		if err != nil {
			return r, err
		}
		r.numpy = r.numpy.least(n.Seconds, n.CPU)
		r.inside += n.Inside / float64(b.rounds)
	}
	return r, nil
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
type numpyResult struct{ Seconds, CPU, Inside float64 }

// numpy draws as many trips as the plan did.
func (b bench) numpy(path string, p plan.Plan) (r numpyResult, err error) {
	s, l := p.Request.Subject, p.Request.Lag
	text, err := json.Marshal(map[string]any{
		"lag": l.Mean, "scale": l.Scale, "df": l.DF, "delay": p.Delay, "speed": s.Speed, "speed_sd": s.SpeedSD,
		"elevation": s.Elevation, "elevation_sd": s.ElevationSD, "azimuth_sd": s.AzimuthSD,
		"exit": s.Exit, "motion": s.Motion, "behind_nose": s.BehindNose, "length": s.Length, "height": s.Height,
		"width": s.Width,
		"along": p.Reach.Along, "up": p.Reach.Up, "depth": p.Reach.Depth, "seed": 5, "repeats": 3,
		"draws": p.Drawn, "chunk": 1 << 14})
	if err != nil {
		return r, err
	}
	if err := os.WriteFile(path, text, 0o666); err != nil {
		return r, err
	}
	out, err := exec.Command(b.python, b.script, path).Output()
	if err != nil {
		return r, fmt.Errorf("NumPy: %w", err)
	}
	err = json.Unmarshal(out, &r)
	return r, err
}
