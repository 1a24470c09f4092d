package report

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"time"

	"leadmark/calib"
	"leadmark/calib/runfile"
	"leadmark/fit"
	"leadmark/fit/onelag"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// The made-up run of the tests: a nest tube in a greenhouse, from which solitary bees will fly; a
// steel ruler was dropped through the beam in front of it from three heights. All numbers are
// invented; only the shape of the page is tested with them.
const (
	beeLag, beeSpread, beeOffset = 52.3e-3, 0.8e-3, 0.4e-3
	beeWidth, beeHeight          = 2400, 3600
	beePxPerM                    = 8000.0
	beeTripY                     = 620.0
	beeAxisX                     = 1180.0
)

var beeStart = time.Date(2026, 5, 3, 10, 21, 7, 0, time.FixedZone("", 2*3600))

// beeRun makes a run of n frames at each of the heights.
func beeRun(n int, heights ...float64) calib.Result {
	rnd := rand.New(rand.NewPCG(7, 11))
	r := calib.Result{
		Rig:       "greenhouse",
		RunSHA256: "3d5e0c6f1b2a49788796a5b4c3d2e1f00f1e2d3c4b5a69788796a5b4c3d2e1f0",
		TripLine:  &ruler.Line{A: ruler.Point{X: 0, Y: beeTripY + 3.2}, B: ruler.Point{X: beeWidth, Y: beeTripY + 3.2}},
		CountLine: &ruler.Line{A: ruler.Point{X: 0, Y: beeTripY}, B: ruler.Point{X: beeWidth, Y: beeTripY}},
	}
	front := 0.0
	r.Run = runfile.Run{Rig: "greenhouse", Method: runfile.Drop, Travel: runfile.Down,
		Ruler: runfile.RulerSpec{Graduation: 1e-3, Front: &front}, HasShots: true,
		Defaults: runfile.Conditions{Gravity: 9.80665, DropU: 1e-3, DropShotU: 0.3e-3}}
	r.Frames = append(r.Frames, beeFrame(0, 0))
	r.Frames[0].Status, r.Frames[0].Reason = ruler.StatusLeftOut,
		ruler.Reason{Code: "still", Text: "the frame with the front end resting at the trip place"}
	for _, h := range heights {
		for range n {
			v := math.Sqrt(2 * 9.80665 * h)
			tau := beeLag + beeSpread*rnd.NormFloat64()
			f := beeFrame(len(r.Frames), beeOffset+v*tau+9.80665*tau*tau/2+0.06e-3*rnd.NormFloat64())
			f.Conditions.Drop = h
			r.Frames = append(r.Frames, f)
		}
	}
	if k := 5; k < len(r.Frames) {
		f := &r.Frames[k]
		f.Status, f.Reason = ruler.StatusRefused, ruler.Reason{Code: "two-rulers",
			Text: "two rulers lie in the picture and neither moves; take the second one out of view"}
		f.Reading = ruler.Reading{}
	}
	beeFit(&r)
	return r
}

func beeFrame(i int, advance float64) calib.FrameResult {
	y := beeTripY + advance*beePxPerM
	var f calib.FrameResult
	f.Frame = frame.Frame{Name: fmt.Sprintf("IMG_%04d.JPG", i+1), Format: "jpeg", Width: beeWidth,
		Height: beeHeight, Orientation: 1,
		StoredWidth: beeWidth, StoredHeight: beeHeight, Digest: fmt.Sprintf("%064x", i+1),
		Taken: beeStart.Add(time.Duration(i) * 41 * time.Second), ZoneKnown: true, Exposure: 0.005, FNumber: 11,
		ISO: 200, Focal: 0.1}
	f.Conditions = runfile.Conditions{Gravity: 9.80665}
	f.Status, f.Advance, f.U = ruler.StatusRead, advance, 0.06e-3
	f.FrontPX, f.PxPerM = ruler.Point{X: beeAxisX, Y: y}, beePxPerM
	f.Reading = ruler.Reading{
		Status: ruler.StatusRead, Graduation: 1e-3, Unit: "mm", Absolute: true, PxPerM: beePxPerM, U: 0.3,
		Scale: ruler.Scale{Origin: ruler.Point{X: beeAxisX, Y: y}, Dir: ruler.Point{Y: -1}, Side: 1,
			Long: ruler.Line{A: ruler.Point{X: beeAxisX, Y: y}, B: ruler.Point{X: beeAxisX, Y: y - 1000}},
			T1:   beePxPerM, Used: 100},
		Front: &ruler.End{At: ruler.Point{X: beeAxisX, Y: y},
			Line: ruler.Line{A: ruler.Point{X: beeAxisX - 40, Y: y}, B: ruler.Point{X: beeAxisX + 160, Y: y}},
			U:    0.4, WidthPX: 2},
		Outline: [4]ruler.Point{{X: beeAxisX - 40, Y: y}, {X: beeAxisX + 160, Y: y}, {X: beeAxisX + 160, Y: 0},
			{X: beeAxisX - 40, Y: 0}},
	}
	g := &f.Reading.Graduations
	*g = ruler.Graduations{Axis: ruler.Axis{Origin: ruler.Point{X: beeAxisX - 25, Y: y}, Dir: ruler.Point{Y: -1}},
		Step: 1e-3}
	for k := 0; y-float64(k)*beePxPerM/1000 > 4; k++ {
		g.T, g.Seen = append(g.T, float32(k)*beePxPerM/1000), append(g.Seen, k%17 != 13)
	}
	return f
}

// beeFit fills in a fit of the right shape: the numbers that made the run, not an estimate.
func beeFit(r *calib.Result) {
	est := func(v, u float64) *fit.Estimate {
		return &fit.Estimate{Value: v, U: u, DF: 18, Interval95: fit.Interval{Low: v - 2.1*u, High: v + 2.1*u},
			Method: "invented"}
	}
	r.Fit = fit.Result{
		Determined: []string{"lag", "spread", "next_shot", "trip_offset", "advance"},
		Lag:        est(beeLag, 0.18e-3),
		Spread: &fit.Estimate{Value: beeSpread, U: 0.12e-3, DF: 18,
			Interval95: fit.Interval{Low: 0.62e-3, High: 1.1e-3}},
		NextShot:   &fit.Interval{Low: 50.6e-3, High: 54.0e-3},
		TripOffset: est(beeOffset, 0.2e-3),
		Notes: []fit.Note{{Code: "few-heights",
			Text: "the lag and the trip place are told apart by three heights only; a fourth would check the model"}},
		Advice: []fit.Advice{
			{Text: "Shoot 4 more drops from 900 mm.", Drop: 0.9, Shots: 4, ULagAfter: 0.14e-3},
			{Text: "Shoot 3 more drops from 150 mm.", Drop: 0.15, Shots: 3, ULagAfter: 0.15e-3},
		},
		Curve: func(v, d float64) (float64, float64) {
			t := beeLag + d
			return beeOffset + v*t + 9.80665*t*t/2, math.Hypot(0.2e-3, v*0.18e-3) * 0.6
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
		sd := math.Hypot(v*beeSpread, f.U)
		f.Fit = fit.ShotFit{Fitted: mean, Residual: f.Advance - mean, Z: (f.Advance - mean) / sd, Weight: 1}
		if outliers == 0 && i > 10 {
			outliers++
			moveFrame(f, 5.2*sd-f.Fit.Residual)
			f.Fit = fit.ShotFit{Fitted: mean, Residual: 5.2 * sd, Z: 5.2, Weight: 0.1, Outlier: true,
				Why: "lies 5.2 standard deviations from what the others say"}
			r.Warnings = append(r.Warnings, calib.Warning{Code: "outlier",
				Text: "this shot does not follow the others and was given little weight; look at the frame, " +
					"and set use = no with a reason where it is known to be bad", Frames: []string{f.Name}})
		}
		r.Fit.Shots = append(r.Fit.Shots, f.Fit)
		if groups[f.Conditions.Drop] == nil {
			order = append(order, f.Conditions.Drop)
		}
		groups[f.Conditions.Drop] = append(groups[f.Conditions.Drop], f.Advance)
	}
	beeRemarks(r)
	for _, h := range order {
		r.Fit.Advance = append(r.Fit.Advance, beeGroup(h, groups[h]))
	}
}

// beeRemarks adds what makes up the uncertainty, the checks, and what the odd shot changes. The lines of
// the budget are invented, but their squares add up.
func beeRemarks(r *calib.Result) {
	r.Fit.Budget = []fit.Budget{{Of: "lag", Unit: "s", U: 0.18e-3, DF: 18, Lines: []fit.Contribution{
		{Source: "reading", Text: "reading the ruler, shot by shot", Kind: "B", N: 17, Unit: "m", Input: 0.06e-3,
			Sensitivity: 0.2, U: 0.012e-3, Share: 0.0044},
		{Source: "spread", Text: "the lag's own spread, shot by shot", Kind: "A", N: 17, Unit: "s", Input: 0.8e-3,
			Sensitivity: 0.1794, U: 0.1435e-3, Share: 0.6356},
		{Source: "drop-height", Drop: 0.4, Text: "stated height of 400 mm, one error for all its shots",
			Kind: "B", N: 1, Unit: "m", Input: 1e-3, Sensitivity: -0.108, U: 0.108e-3, Share: 0.36},
		{Source: "gravity", Text: "gravity", Kind: "B", N: 1, Unit: "m/s^2", Input: 1e-5, Sensitivity: 1e-9,
			U: 1e-14, Share: 3e-21},
		{Source: "speed-repeat", Text: "repeatability", Kind: "B", N: 1, Unit: "1", Input: 0, Sensitivity: 0,
			U: 0, Share: 0},
	}}, {Of: "trip_offset", Unit: "m", U: 0.2e-3, DF: 1e6, Lines: []fit.Contribution{
		{Source: "spread", Text: "the lag's own spread, shot by shot", Kind: "A", N: 17, Unit: "s", Input: 0.8e-3,
			Sensitivity: 0.25, U: 0.2e-3, Share: 1},
	}}}
	r.Fit.Checks = []onelag.Check{
		{Name: "order", Tested: true, Statistic: 0.65, P: 0.43, Threshold: 0.05,
			Text: "no drift over the shooting order shows"},
		{Name: "pause", Text: "fewer than two shots were made after a pause"},
		{Name: "two-lags", Tested: true, Statistic: 14, P: 0.002, Threshold: 0.0125, Alarm: true,
			Text: "the shots fall into two groups"},
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

func beeGroup(h float64, x []float64) fit.AdvanceGroup {
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
	g := beeFrame(0, f.Advance+by)
	f.Advance, f.FrontPX, f.Reading, f.Conditions = g.Advance, g.FrontPX, g.Reading, old
}

// beePicture draws the frame's clips: a dim greenhouse, the ruler where the reading says.
func beePicture(r calib.Result) func(context.Context, frame.Frame) (ruler.Clips, error) {
	by := map[string]calib.FrameResult{}
	for _, f := range r.Frames {
		by[f.Name] = f
	}
	return func(_ context.Context, f frame.Frame) (ruler.Clips, error) {
		g, ok := by[f.Name]
		if !ok {
			return ruler.Clips{}, errors.New("no such frame")
		}
		if *kept == "" { // drawn to be parsed, not to be looked at
			c := beeClip(g, 20)
			return ruler.Clips{Large: c, Small: c}, nil
		}
		return ruler.Clips{Large: beeClip(g, 2), Small: beeClip(g, 4)}, nil
	}
}

// beeClip is all of the frame, reduced.
func beeClip(g calib.FrameResult, scale float64) ruler.Clip {
	m := image.NewRGBA(image.Rect(0, 0, int(beeWidth/scale), int(beeHeight/scale)))
	for y := range m.Rect.Dy() {
		for x := range m.Rect.Dx() {
			m.SetRGBA(x, y, beeColour((float64(x)+0.5)*scale-0.5, (float64(y)+0.5)*scale-0.5, g.FrontPX.Y, scale))
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		panic(err) // into memory
	}
	return ruler.Clip{Left: -0.5, Top: -0.5, Scale: scale, Width: m.Rect.Dx(), Height: m.Rect.Dy(), JPEG: b.Bytes()}
}

// beeColour is the tone of one place; soft is the size of a pixel of the reduced picture.
func beeColour(x, y, front, soft float64) color.RGBA {
	cover := func(d float64) float64 { return min(1, max(0, d/max(soft, 1.5)+0.5)) }
	tone := func(r, g, b float64) color.RGBA { return color.RGBA{uint8(r), uint8(g), uint8(b), 255} }
	blur := 14*math.Sin(x/310)*math.Cos(y/270) + 9*math.Sin(x/97+y/133)
	br, bg, bb := 38+blur, 58+1.4*blur, 40+0.6*blur
	body := cover(x-(beeAxisX-40)) * cover(beeAxisX+160-x) * cover(front-y)
	shade := 196 + 16*math.Sin((x-beeAxisX)/60)
	if body > 0 {
		n := math.Round((front - y) / 8)
		length := 30.0
		switch {
		case math.Mod(n, 10) == 0:
			length = 80
		case math.Mod(n, 5) == 0:
			length = 55
		}
		ink := cover(0.9-math.Abs(front-y-8*n)) * cover(x-(beeAxisX-40)) * cover(beeAxisX-40+length-x)
		shade -= 150 * ink
	}
	return tone(br+(shade-br)*body, bg+(shade+2-bg)*body, bb+(shade-4-bb)*body)
}

// beeAdvanceOnly is the same run with nothing known of its speed: only the advance can be told.
func beeAdvanceOnly(n int) calib.Result {
	r := beeRun(n, 0.4)
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

// beeSweep is a push at one unknown speed with delays stepped.
func beeSweep(n int) calib.Result {
	r := beeRun(n, 0.2)
	const v = 1.52
	r.Run.Method = runfile.Push
	r.Fit.Curve = func(speed, d float64) (float64, float64) {
		return beeOffset + speed*(beeLag+d), math.Hypot(0.3e-3, speed*0.2e-3)
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
			moveFrame(f, mean+v*beeSpread*rnd.NormFloat64()-f.Advance)
			f.Fit = fit.ShotFit{Fitted: mean, Residual: f.Advance - mean, Z: (f.Advance - mean) / (v * beeSpread),
				Weight: 1}
			groups[f.Conditions.Delay] = append(groups[f.Conditions.Delay], f.Advance)
		}
	}
	for k := range 6 {
		g := beeGroup(0, groups[float64(k)*10e-3])
		g.Group, g.Delay = "a", float64(k)*10e-3
		r.Fit.Advance = append(r.Fit.Advance, g)
	}
	return r
}
