// Package bees is the invented run of the report's tests: a nest tube in a greenhouse, from which
// solitary bees will fly; a steel ruler was dropped through the beam in front of it from three
// heights. All numbers are invented; only what is made of them is tested.
package bees

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"leadmark/calib"
	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/fit"
	"leadmark/fit/note"
	"leadmark/fit/onelag"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// What the run is made of: SI, and pixels of its pictures.
const (
	trueLag, trueSpread, trueOffset = 52.3e-3, 0.8e-3, 0.4e-3
	width, height                   = 2400, 3600
	pxPerM                          = 8000.0
	tripY                           = 620.0
	axisX                           = 1180.0
)

var start = time.Date(2026, 5, 3, 10, 21, 7, 0, time.FixedZone("", 2*3600))

// Run makes a run of n frames at each of the heights.
func Run(n int, heights ...float64) calib.Result {
	rnd := rand.New(rand.NewPCG(7, 11))
	r := calib.Result{
		Rig:       "greenhouse",
		RunSHA256: "3d5e0c6f1b2a49788796a5b4c3d2e1f00f1e2d3c4b5a69788796a5b4c3d2e1f0",
		TripLine:  &ruler.Line{A: ruler.Point{X: 0, Y: tripY + 3.2}, B: ruler.Point{X: width, Y: tripY + 3.2}},
		CountLine: &ruler.Line{A: ruler.Point{X: 0, Y: tripY}, B: ruler.Point{X: width, Y: tripY}},
	}
	front := 0.0
	r.Run = runfile.Run{Rig: "greenhouse", Method: runfile.Drop, Travel: runfile.Down,
		Ruler: runfile.RulerSpec{Graduation: 1e-3, Front: &front}, HasShots: true,
		Defaults: runfile.Conditions{Gravity: 9.80665, DropU: 1e-3, DropShotU: 0.3e-3}}
	r.Frames = append(r.Frames, makeFrame(0, 0))
	r.Frames[0].Status, r.Frames[0].Reason = ruler.StatusLeftOut,
		note.New(read.CodeStill)
	for _, h := range heights {
		for range n {
			v := math.Sqrt(2 * 9.80665 * h)
			tau := trueLag + trueSpread*rnd.NormFloat64()
			f := makeFrame(len(r.Frames), trueOffset+v*tau+9.80665*tau*tau/2+0.06e-3*rnd.NormFloat64())
			f.Conditions.Drop = h
			r.Frames = append(r.Frames, f)
		}
	}
	if k := 5; k < len(r.Frames) {
		f := &r.Frames[k]
		f.Status, f.Reason = ruler.StatusRefused, note.Of("two-rulers", "which",
			note.New("two-rulers", 2100, 1480, 1950, 1500))
		f.Reading = ruler.Reading{}
	}
	fillFit(&r)
	return r
}

func makeFrame(i int, advance float64) calib.FrameResult {
	y := tripY + advance*pxPerM
	var f calib.FrameResult
	f.Frame = frame.Frame{Name: fmt.Sprintf("IMG_%04d.JPG", i+1), Format: "jpeg", Width: width,
		Height: height, Orientation: 1,
		StoredWidth: width, StoredHeight: height, Digest: fmt.Sprintf("%064x", i+1),
		Taken: start.Add(time.Duration(i) * 41 * time.Second), ZoneKnown: true, Exposure: 0.005, FNumber: 11,
		ISO: 200, Focal: 0.1}
	f.Conditions = runfile.Conditions{Gravity: 9.80665}
	f.Status, f.Advance, f.U = ruler.StatusRead, advance, 0.06e-3
	f.FrontPX, f.PxPerM = ruler.Point{X: axisX, Y: y}, pxPerM
	f.Reading = ruler.Reading{
		Status: ruler.StatusRead, Graduation: 1e-3, Unit: "mm", Absolute: true, PxPerM: pxPerM, U: 0.3,
		Scale: ruler.Scale{Origin: ruler.Point{X: axisX, Y: y}, Dir: ruler.Point{Y: -1}, Side: 1,
			Long: ruler.Line{A: ruler.Point{X: axisX, Y: y}, B: ruler.Point{X: axisX, Y: y - 1000}},
			T1:   pxPerM, Used: 100},
		Front: &ruler.End{At: ruler.Point{X: axisX, Y: y},
			Line: ruler.Line{A: ruler.Point{X: axisX - 40, Y: y}, B: ruler.Point{X: axisX + 160, Y: y}},
			U:    0.4, WidthPX: 2},
		Outline: [4]ruler.Point{{X: axisX - 40, Y: y}, {X: axisX + 160, Y: y}, {X: axisX + 160, Y: 0},
			{X: axisX - 40, Y: 0}},
	}
	g := &f.Reading.Graduations
	*g = ruler.Graduations{Axis: ruler.Axis{Origin: ruler.Point{X: axisX - 25, Y: y}, Dir: ruler.Point{Y: -1}},
		Step: 1e-3}
	for k := 0; y-float64(k)*pxPerM/1000 > 4; k++ {
		g.T, g.Seen = append(g.T, float32(k)*pxPerM/1000), append(g.Seen, k%17 != 13)
	}
	return f
}

// fillFit fills in a fit of the right shape: the numbers that made the run, not an estimate.
func fillFit(r *calib.Result) {
	est := func(v, u float64) *fit.Estimate {
		return &fit.Estimate{Value: v, U: u, DF: 18, Interval95: fit.Interval{Low: v - 2.1*u, High: v + 2.1*u},
			Method: "invented"}
	}
	r.Fit = fit.Result{
		Determined: []string{"lag", "spread", "next_shot", "trip_offset", "advance"},
		Lag:        est(trueLag, 0.18e-3),
		Spread: &fit.Estimate{Value: trueSpread, U: 0.12e-3, DF: 18,
			Interval95: fit.Interval{Low: 0.62e-3, High: 1.1e-3}},
		NextShot:   &fit.Interval{Low: 50.6e-3, High: 54.0e-3},
		TripOffset: est(trueOffset, 0.2e-3),
		Notes:      []note.Note{note.New("few-shots", 4)},
		Advice: []fit.Advice{
			{Note: note.Of("shoot", "to-better", note.Of("shots", "drop", 4, 0.9, 0), 0.18e-3, 0.14e-3),
				Drop: 0.9, Shots: 4, ULagAfter: 0.14e-3},
			{Note: note.Of("shoot", "to-better", note.Of("shots", "drop", 3, 0.15, 0), 0.18e-3, 0.15e-3),
				Drop: 0.15, Shots: 3, ULagAfter: 0.15e-3},
		},
		Curve: func(v, d float64) (float64, float64) {
			t := trueLag + d
			return trueOffset + v*t + 9.80665*t*t/2, math.Hypot(0.2e-3, v*0.18e-3) * 0.6
		},
	}
	groups := map[float64][]float64{}
	var order []float64
	outliers := 0
	for i := range r.Frames {
		f := &r.Frames[i]
		if f.Status != ruler.StatusRead {
			continue
		}
		v := math.Sqrt(2 * 9.80665 * f.Conditions.Drop)
		mean, _ := r.Fit.Curve(v, 0)
		sd := math.Hypot(v*trueSpread, f.U)
		f.Fit = fit.ShotFit{Fitted: mean, Residual: f.Advance - mean, Z: (f.Advance - mean) / sd, Weight: 1}
		if outliers == 0 && i > 10 {
			outliers++
			moveFrame(f, 5.2*sd-f.Fit.Residual)
			f.Fit = fit.ShotFit{Fitted: mean, Residual: 5.2 * sd, Z: 5.2, Weight: 0.1, Outlier: true,
				Why: note.Of("odd-shot", "past", 5.2*sd, 5.2)}
			r.Warnings = append(r.Warnings, calib.Warning{Note: note.Of("odd-shots", "alone"),
				Frames: []string{f.Name}})
		}
		r.Fit.Shots = append(r.Fit.Shots, f.Fit)
		if groups[f.Conditions.Drop] == nil {
			order = append(order, f.Conditions.Drop)
		}
		groups[f.Conditions.Drop] = append(groups[f.Conditions.Drop], f.Advance)
	}
	remarks(r)
	for _, h := range order {
		r.Fit.Advance = append(r.Fit.Advance, group(h, groups[h]))
	}
}

// remarks adds what makes up the uncertainty, the checks, and what the odd shot changes. The lines
// of the budget are invented, but their squares add up.
func remarks(r *calib.Result) {
	r.Fit.Budget = []fit.Budget{{Of: "lag", Unit: "s", U: 0.18e-3, DF: 18, Lines: []fit.Contribution{
		{Source: "reading", Kind: "B", N: 17, Unit: "m", Input: 0.06e-3,
			Sensitivity: 0.2, U: 0.012e-3, Share: 0.0044},
		{Source: "spread", Kind: "A", N: 17, Unit: "s", Input: 0.8e-3,
			Sensitivity: 0.1794, U: 0.1435e-3, Share: 0.6356},
		{Source: "drop-height", Drop: 0.4,
			Kind: "B", N: 1, Unit: "m", Input: 1e-3, Sensitivity: -0.108, U: 0.108e-3, Share: 0.36},
		{Source: "gravity", Kind: "B", N: 1, Unit: "m/s^2", Input: 1e-5, Sensitivity: 1e-9,
			U: 1e-14, Share: 3e-21},
		{Source: "speed-repeat", Kind: "B", N: 1, Unit: "1", Input: 0, Sensitivity: 0,
			U: 0, Share: 0},
	}}, {Of: "trip_offset", Unit: "m", U: 0.2e-3, DF: 1e6, Lines: []fit.Contribution{
		{Source: "spread", Kind: "A", N: 17, Unit: "s", Input: 0.8e-3,
			Sensitivity: 0.25, U: 0.2e-3, Share: 1},
	}}}
	r.Fit.Checks = []onelag.Check{
		{Name: "order", Tested: true, Statistic: 0.65, P: 0.43, Threshold: 0.05,
			Note: note.Of("order", "nothing", 0.43)},
		{Name: "pause", Note: note.Of("pause", "few", 60)},
		{Name: "two-lags", Tested: true, Statistic: 14, P: 0.002, Threshold: 0.0125, Alarm: true,
			Note: note.New("two-lags", 0.3, 2e-3)},
	}
	for k, s := range r.Fit.Shots {
		if s.Outlier {
			with := *r.Fit.Lag
			with.Value, with.U = with.Value+0.4e-3, 0.5e-3
			with.Interval95 = fit.Interval{Low: with.Value - 1e-3, High: with.Value + 1e-3}
			spread := *r.Fit.Spread
			spread.Value *= 1.5
			r.Fit.Odd = &fit.Odd{Shots: []int{k}, Lag: &with, Spread: &spread, LagChange: 0.4e-3, SpreadRatio: 1.5}
		}
	}
}

func group(h float64, x []float64) fit.AdvanceGroup {
	var m, ss float64
	for _, a := range x {
		m += a / float64(len(x))
	}
	for _, a := range x {
		ss += (a - m) * (a - m)
	}
	sd := math.Sqrt(ss / float64(len(x)-1))
	u := sd / math.Sqrt(float64(len(x)))
	return fit.AdvanceGroup{Drop: h, N: len(x), SD: sd, Tolerance95: &fit.Interval{Low: m - 3.4*sd, High: m + 3.4*sd},
		Mean: fit.Estimate{Value: m, U: u, Interval95: fit.Interval{Low: m - 2.3*u, High: m + 2.3*u}}}
}

// moveFrame shifts a reading and all its marks along the track.
func moveFrame(f *calib.FrameResult, by float64) {
	old := f.Conditions
	g := makeFrame(0, f.Advance+by)
	f.Advance, f.FrontPX, f.Reading, f.Conditions = g.Advance, g.FrontPX, g.Reading, old
}

// AdvanceOnly is the same run with nothing known of its speed: only the advance can be told.
func AdvanceOnly(n int) calib.Result {
	r := Run(n, 0.4)
	r.Run.Method, r.Run.Travel = runfile.Push, runfile.Right
	r.Fit.Lag, r.Fit.Spread, r.Fit.NextShot, r.Fit.TripOffset, r.Fit.Curve = nil, nil, nil, nil, nil
	r.Fit.Budget, r.Fit.Checks, r.Fit.Odd = nil, nil, nil
	r.TripLine = nil
	r.Fit.Determined = []string{"advance"}
	for i := range r.Frames {
		r.Frames[i].Conditions = runfile.Conditions{}
	}
	for i := range r.Fit.Advance {
		r.Fit.Advance[i].Drop = 0
	}
	return r
}

// Sweep is a run of n frames pushed at one unknown speed with delays stepped.
func Sweep(n int) calib.Result {
	r := Run(n, 0.2)
	const v = 1.52
	r.Run.Method = runfile.Push
	r.Fit.Curve = func(speed, d float64) (float64, float64) {
		return trueOffset + speed*(trueLag+d), math.Hypot(0.3e-3, speed*0.2e-3)
	}
	r.Fit.Speeds = []fit.GroupSpeed{{Group: "a", Estimate: fit.Estimate{Value: v, U: 0.01, DF: 12,
		Interval95: fit.Interval{Low: 1.50, High: 1.54}}}}
	r.Fit.Advance = nil
	rnd := rand.New(rand.NewPCG(3, 4))
	groups := map[float64][]float64{}
	for i := range r.Frames {
		f := &r.Frames[i]
		f.Conditions = runfile.Conditions{Group: "a", Delay: float64(i%6) * 10e-3}
		mean, _ := r.Fit.Curve(v, f.Conditions.Delay)
		if f.Status == ruler.StatusRead {
			moveFrame(f, mean+v*trueSpread*rnd.NormFloat64()-f.Advance)
			f.Fit = fit.ShotFit{Fitted: mean, Residual: f.Advance - mean, Z: (f.Advance - mean) / (v * trueSpread),
				Weight: 1}
			groups[f.Conditions.Delay] = append(groups[f.Conditions.Delay], f.Advance)
		}
	}
	for k := range 6 {
		g := group(0, groups[float64(k)*10e-3])
		g.Group, g.Delay = "a", float64(k)*10e-3
		r.Fit.Advance = append(r.Fit.Advance, g)
	}
	return r
}
