package plan_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"runtime"
	"strings"
	"testing"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/plan/light"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/calib/rig"
	"leadmark/calib/words"
)

func bench() rig.Profile {
	return rig.Profile{Name: "greenhouse",
		Camera: rig.Camera{Sensor: [2]float64{0.0235, 0.0156}, Pixels: [2]int{6000, 4000},
			Sync: 0.005, ISO: 200, AmbientEV100: new(float64)},
		Lens:  rig.Lens{Focal: 0.1, Closest: 0.41, FNumber: [2]float64{2.8, 32}},
		Flash: []rig.Head{key(1.0 / 64)},
	}
}

// table is a head's durations from the powers they are for.
func table(us map[float64]float64) []rig.Duration {
	var all []rig.Duration
	for p, d := range us {
		all = append(all, rig.Duration{Power: p, Seconds: d * 1e-6})
	}
	return all
}

func key(power float64) rig.Head {
	return rig.Head{Name: "key", Lights: rig.Subject, GuideNumber: 40, Distance: 0.3, Loss: 1.5,
		Range: [2]float64{1, 1.0 / 128}, Power: power,
		T01: table(map[float64]float64{1.0 / 16: 160, 1.0 / 32: 85, 1.0 / 64: 45, 1.0 / 128: 30})}
}

func bee() subject.Subject {
	return subject.Subject{Name: "bee", Length: 0.012, Height: 0.006, Width: 0.008,
		Motion: subject.Straight, Speed: 1.2, SpeedSD: 0.3, Elevation: rad(5), ElevationSD: rad(8),
		AzimuthSD: rad(6),
		Exit:      [2]float64{0.01, 0.01}, FocusOn: subject.FocusBody}
}

func measured() predict.Law {
	return predict.Law{Mean: 0.0523, Scale: 0.00085, DF: 17, Spread: 0.0008, MeanU: 0.0002}
}

// makePlan plans the bee with the bench, changed as asked.
func makePlan(t testing.TB, change func(*plan.Request)) plan.Plan {
	t.Helper()
	r := plan.Request{Rig: bench(), Subject: bee(), Lag: measured(), Options: plan.DefaultOptions()}
	r.Options.Draws = 1 << 15 // enough for what is asked here, and quick
	if change != nil {
		change(&r)
	}
	p, err := plan.Make(r)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func warned(p plan.Plan, code string) bool {
	for _, w := range p.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

// The same seed gives the same plan to the last byte, whatever the number of workers; another seed
// one that agrees within the stated errors.
func TestTheSameSeedGivesTheSamePlan(t *testing.T) {
	text := func(p plan.Plan) []byte {
		b, err := plan.Encode(p)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	a := makePlan(t, nil)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if b := makePlan(t, nil); !bytes.Equal(text(a), text(b)) {
		t.Errorf("%s\n%s", text(a), text(b))
	}
	c := makePlan(t, func(r *plan.Request) { r.Options.Seed = 2 })
	if bytes.Equal(text(a), text(c)) {
		t.Error("another seed gave the same plan")
	}
	if d := math.Abs(a.Lead.Mean - c.Lead.Mean); d > 5*math.Hypot(a.Lead.MeanU, c.Lead.MeanU) {
		t.Errorf("the mean lead moved by %g, its errors are %g and %g", d, a.Lead.MeanU,
			c.Lead.MeanU)
	}
	if d := math.Abs(a.Chance.InField.P - c.Chance.InField.P); d > 5*math.Hypot(a.Chance.InField.U,
		c.Chance.InField.U)+0.01 {
		t.Errorf("the chance moved by %g", d)
	}
}

// plan.json has every key of the contract, and none of its numbers is there where it cannot be
// told.
func TestDocumentHasTheContract(t *testing.T) {
	at := 0.08
	p := makePlan(t, func(r *plan.Request) { r.Options.Moment = &at })
	text, err := plan.Encode(p)
	if err != nil {
		t.Fatal(err)
	}
	var doc map[string]any
	if err := json.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"schema", "rig", "subject", "lag_ms", "spread_ms", "lead.mean_mm",
		"lead.interval95_mm", "reach.probability", "reach.along_mm", "reach.up_mm",
		"reach.depth_mm", "field_mm",
		"magnification", "subject_distance_mm", "aim_mm", "f_number", "depth_of_field_mm",
		"blur.motion_um", "blur.motion_px", "blur.diffraction_um", "blur.defocus_um",
		"blur.total_px",
		"chance.in_field", "chance.in_focus", "chance.frozen", "chance.keeper", "trips", "flash",
		"ambient_below_flash_stops", "moment.at_mm", "moment.trip_before_mm", "moment.delay_ms",
		"warnings", "cautions"} {
		var v any = doc
		for _, part := range strings.Split(key, ".") {
			v = v.(map[string]any)[part]
		}
		if v == nil {
			t.Errorf("no %s in\n%s", key, text)
		}
	}
	head := doc["flash"].([]any)[0].(map[string]any)
	for _, key := range []string{"name", "power", "t01_us", "effective_f_number", "over_stops"} {
		if head[key] == nil {
			t.Errorf("no %s in %v", key, head)
		}
	}
	if trips := doc["trips"].(map[string]any); trips["0.50"] == nil || trips["0.90"] == nil ||
		trips["0.95"] == nil {
		t.Errorf("trips %v", trips)
	}
	bare := makePlan(t, func(r *plan.Request) { r.Rig = rig.Profile{} })
	text, _ = plan.Encode(bare)
	for _, absent := range []string{"field_mm", "chance", "flash", "blur", "moment", "trips"} {
		if bytes.Contains(text, []byte(`"`+absent+`"`)) {
			t.Errorf("%s is told without a camera", absent)
		}
	}
	if !warned(bare, "no-camera") || bytes.Contains(text, []byte("NaN")) {
		t.Errorf("%s", text)
	}
}

// The box of plan.json is rounded outward: it holds no less than the plan's.
func TestDocumentRoundsTheReachOutward(t *testing.T) {
	p := makePlan(t, nil)
	d := plan.NewDocument(p)
	for _, c := range []struct {
		mm [2]float64
		m  [2]float64
	}{{d.Reach.AlongMM, p.Reach.Along}, {d.Reach.UpMM, p.Reach.Up},
		{d.Reach.DepthMM, p.Reach.Depth}} {
		if c.mm[0] > c.m[0]*1e3+1e-6 || c.mm[1] < c.m[1]*1e3-1e-6 || c.mm[1]-c.m[1]*1e3 > 0.11 {
			t.Errorf("%v mm for %v m", c.mm, c.m)
		}
	}
}

// The field holds the reach at its nearest, within the frame as the camera sees it; the other way
// round, a stated field is told what it holds. Thin-lens relation between field, magnification and
// distance: field = sensor/m.
func TestFraming(t *testing.T) {
	p := makePlan(t, nil)
	f, r := *p.Framing, p.Reach
	u := f.Optics.PupilDistance()
	k := (u - r.Depth[1]) / u
	slack := math.Min(k*f.Field[0]/(r.Along[1]-r.Along[0]), k*f.Field[1]/(r.Up[1]-r.Up[0]))
	near(t, "the tighter side fits exactly", slack, 1, 1e-9)
	near(t, "field", f.Field[0], f.Sensor[0]/f.Optics.Magnification, 1e-12)
	if p.Chance.InField.P < 0.95-0.003 {
		t.Errorf("the field that holds the reach holds %.4f", p.Chance.InField.P)
	}
	wide := makePlan(t, func(r *plan.Request) { r.Options.Field = f.Field[0] })
	near(t, "the same field stated", wide.Chance.InField.P, p.Chance.InField.P, 1e-9)
	small := makePlan(t, func(r *plan.Request) { r.Options.Field = f.Field[0] / 2 })
	if c := small.Chance; !(c.InField.P < 0.6) || !warned(small, "field-clips") ||
		max(c.Clips[0].P, c.Clips[1].P, c.Clips[2].P, c.Clips[3].P) < (1-c.InField.P)/4 {
		t.Errorf("half the field: %+v, %v", c.InField, small.Warnings)
	}
}

// A hopper needs room upward, a runner a band (common practice, no source): it follows from the
// motion.
func TestTheShapeFollowsFromTheMotion(t *testing.T) {
	hop := makePlan(t, func(r *plan.Request) {
		r.Subject = subject.Subject{Length: 0.01, Height: 0.005, Width: 0.005, Motion: subject.Hop,
			Speed: 2.5, SpeedSD: 0.4, Elevation: rad(55), ElevationSD: rad(10), AzimuthSD: rad(10),
			Exit: [2]float64{0.01, 0.01}}
	})
	run := makePlan(t, func(r *plan.Request) {
		r.Subject = subject.Subject{Length: 0.05, Height: 0.01, Width: 0.03,
			Motion: subject.Straight, Speed: 2.5, SpeedSD: 0.5, AzimuthSD: rad(5),
			Exit: [2]float64{0, 0.03}}
	})
	tall := func(p plan.Plan) float64 {
		return (p.Reach.Up[1] - p.Reach.Up[0]) / (p.Reach.Along[1] - p.Reach.Along[0])
	}
	if !hop.Framing.Portrait || tall(hop) < 1 || hop.Framing.Aim[1] < 0.05 {
		t.Errorf("hopper: %+v %+v", hop.Reach, hop.Framing)
	}
	if run.Framing.Portrait || tall(run) > 0.2 {
		t.Errorf("runner: %+v %+v", run.Reach, run.Framing)
	}
}

// The closest focus bounds the magnification: 100 mm at 410 mm from the sensor is m with 0.1 (2 + m
// + 1/m) = 0.41, m = 0.7298 (computed by the quadratic formula: b = 2.1, m = 1.05 - sqrt(1.05^2 -
// 1)).
func TestClosestFocus(t *testing.T) {
	m, ok := plan.MagnificationAt(0.1, 0.41)
	if !ok {
		t.Fatal("no magnification")
	}
	near(t, "m", m, 1.05-math.Sqrt(0.1025), 1e-12)
	if _, ok := plan.MagnificationAt(0.1, 0.39); ok {
		t.Error("a thin lens focuses nearer than four focal lengths")
	}
	tiny := makePlan(t, func(r *plan.Request) {
		r.Subject.Length, r.Subject.Height, r.Subject.Width, r.Subject.Speed,
			r.Subject.SpeedSD = 0.002, 0.001, 0.001, 0.1, 0.01
		r.Subject.Exit = [2]float64{0.001, 0.001}
	})
	near(t, "limited to", tiny.Framing.Optics.Magnification, m, 1e-9)
	if !warned(tiny, "closest-focus") || tiny.Chance.InField.P < 0.99 {
		t.Errorf("%+v %v", tiny.Chance.InField, tiny.Warnings)
	}
	_, err := plan.Make(plan.Request{Rig: bench(), Subject: bee(), Lag: measured(),
		Options: func() plan.Options { o := plan.DefaultOptions(); o.Field = 0.01; return o }()})
	var wrong *input.Error
	if !errors.As(err, &wrong) || !strings.Contains(err.Error(), "no field narrower than 32.2 mm") {
		t.Errorf("%v", err)
	}
}

// The chosen aperture is the one of least total blur that the lens has, and all blurs are in the
// budget.
func TestApertureBalances(t *testing.T) {
	p := makePlan(t, nil)
	b := p.Focus.Blur
	near(t, "total", b.Total,
		math.Sqrt(b.Motion*b.Motion+b.Defocus*b.Defocus+b.Diffraction*b.Diffraction+b.Pixel*b.Pixel),
		1e-12)
	near(t, "pixel", b.Pixel, 0.0235/6000, 1e-12)
	near(t, "motion", b.Motion, light.MotionBlur(p.Focus.MidPace, p.Light.Longest.T01,
		p.Framing.Optics.Magnification), 1e-12)
	for _, k := range []float64{-1, 1} {
		n := p.Focus.Optics.FNumber * math.Exp2(k/6)
		q := makePlan(t, func(r *plan.Request) { r.Options.FNumber = n })
		if q.Focus.Blur.Total < b.Total*(1-1e-9) {
			t.Errorf("f/%.3g blurs by %g, f/%.3g by %g", n, q.Focus.Blur.Total,
				p.Focus.Optics.FNumber, b.Total)
		}
	}
}

// Trips for one keeper: ceil(ln(1-q)/ln(1-p)), the geometric law. A chance of 1/2 needs 1, 4 and 5
// trips for 50, 90 and 95 % (1 - 2^-n: 0.5, 0.75, 0.875, 0.9375, 0.96875).
func TestTripsFor(t *testing.T) {
	for _, c := range []struct {
		p, q float64
		n    int
	}{{0.5, 0.5, 1}, {0.5, 0.9, 4}, {0.5, 0.95, 5}, {0.89, 0.5, 1}, {0.89, 0.9, 2}, {1, 0.95, 1},
		{0, 0.5, 0}, {0.1, 0.5, 7}, {0.75, 0.9375, 2}} {
		if got := plan.TripsFor(c.p, c.q); got != c.n {
			t.Errorf("chance %g, confidence %g: %d trips, want %d", c.p, c.q, got, c.n)
		}
	}
}

// A change that can only help does, and a keeper is whole, in focus and frozen.
func TestChancesAndChanges(t *testing.T) {
	p := makePlan(t, nil)
	c := p.Chance
	if c.Keeper.P > min(c.InField.P, c.InFocus.P, c.Frozen.P)+1e-12 ||
		c.Keeper.P < c.InField.P+c.InFocus.P+c.Frozen.P-2-1e-12 {
		t.Errorf("%+v", c)
	}
	seen := map[string]bool{}
	for i, ch := range p.Changes {
		if i > 0 && ch.Gain > p.Changes[i-1].Gain {
			t.Error("the changes are not sorted by what they bring")
		}
		for _, helps := range []string{"heading", "opening", "print", "field"} {
			if ch.Note.Case == helps {
				seen[helps] = true
				if ch.Gain < -0.002 {
					t.Errorf("%v: %+.4f", ch.Note, ch.Gain)
				}
			}
		}
	}
	if len(seen) != 4 {
		t.Errorf("only %v in %+v", seen, p.Changes)
	}
	unknown := makePlan(t, func(r *plan.Request) { r.Rig.Flash[0].T01 = nil })
	if unknown.Chance.Frozen != nil || unknown.Chance.Keeper != nil ||
		unknown.Chance.AtMost == nil || len(unknown.Trips) != 0 || !warned(unknown, "no-duration") {
		t.Errorf("without durations: %+v, %v", unknown.Chance, unknown.Warnings)
	}
}

// The moment: for straight motion without scatter in heading the delay is (place - nose)/speed -
// lag, in closed form.
func TestMoment(t *testing.T) {
	still := func(r *plan.Request) {
		r.Subject.Elevation, r.Subject.ElevationSD, r.Subject.AzimuthSD, r.Subject.SpeedSD,
			r.Subject.BehindNose = 0, 0, 0, 0, 0.002
	}
	at := 0.1
	p := makePlan(t, func(r *plan.Request) { still(r); r.Options.Moment = &at })
	near(t, "delay", p.Moment.Delay, (0.1-0.002)/1.2-0.0523, 2e-3)
	near(t, "beam before the place", p.Moment.TripBefore, 1.2*0.0523+0.002, 1e-3)
	// variance of t: df/(df-2)
	if p.Moment.StandBack != 0 || math.Abs(p.Moment.SD-1.2*0.00085*math.Sqrt(17.0/15)) > 3e-5 {
		t.Errorf("%+v", p.Moment)
	}
	early := 0.035
	p = makePlan(t, func(r *plan.Request) { still(r); r.Options.Moment = &early })
	near(t, "stand back", p.Moment.StandBack, 1.2*0.0523+0.002-0.035, 2e-3)
	if p.Moment.Delay != 0 || !warned(p, "too-slow") {
		t.Errorf("%+v %v", p.Moment, p.Warnings)
	}
}

// A subject too fast for the rig gets a picture in which it is lost, and is told so.
func TestTooFast(t *testing.T) {
	p := makePlan(t, func(r *plan.Request) { r.Subject.Speed, r.Subject.SpeedSD = 15, 5 })
	if !warned(p, "too-fast") {
		t.Errorf("%+v %v", p.Framing, p.Warnings)
	}
}

// A backdrop: sRGB's primaries in CIELAB under D65 are red 53.24, 80.09, 67.20; green 87.73,
// -86.18, 83.18; blue 32.30, 79.19, -107.86 (values commonly printed beside the conversion; from
// memory). A green beetle wants blue, a blue butterfly green.
func TestBackdrop(t *testing.T) {
	for c, want := range map[plan.RGB][3]float64{{255, 0, 0}: {53.24, 80.09, 67.20},
		{0, 255, 0}: {87.73, -86.18, 83.18}, {0, 0, 255}: {32.30, 79.19, -107.86},
		{255, 255, 255}: {100, 0, 0}} {
		got := plan.Lab(c)
		for i := range got {
			if math.Abs(got[i]-want[i]) > 0.06 {
				t.Errorf("%v is %v, want %v", c, got, want)
			}
		}
	}
	if b := plan.ChooseBackdrop([]plan.RGB{{30, 160, 60}}); b.Choose != "blue" || b.Green > b.Blue {
		t.Errorf("%+v", b)
	}
	if b := plan.ChooseBackdrop([]plan.RGB{{40, 80, 190}}); b.Choose != "green" {
		t.Errorf("%+v", b)
	}
	// A brown animal with a fifth of its colours green: the nearest tenth decides.
	var many []plan.RGB
	for range 80 {
		many = append(many, plan.RGB{150, 100, 60})
	}
	for range 20 {
		many = append(many, plan.RGB{40, 165, 70})
	}
	if b := plan.ChooseBackdrop(many); b.Choose != "blue" {
		t.Errorf("%+v", b)
	}
}

// Cautions that the plan touches.
func TestCautions(t *testing.T) {
	text := func(p plan.Plan) string { return strings.Join(words.Sentences(p.Cautions), "\n") }
	p := makePlan(t, func(r *plan.Request) {
		r.Rig.Trigger.Class, r.Rig.Trigger.Burst = "3R", 12
		r.Rig.Flash[0].Loss = 7
		r.Options.FNumber = 32
	})
	for _, want := range []string{"class 3R laser can hurt eyes", "12 flashes a second",
		"would fire at 1/1 only 300 mm from the animal", "local wildlife law",
		"never open a head"} {
		if !strings.Contains(text(p), want) {
			t.Errorf("%q is missing in\n%s", want, text(p))
		}
	}
	if bare := makePlan(t,
		func(r *plan.Request) { r.Rig.Flash = nil }); strings.Contains(text(bare), "Flash:") {
		t.Error("a rig without a head is warned of flash")
	}
}

// What a subject leaves out is told.
func TestUnstatedIsWarnedOf(t *testing.T) {
	p := makePlan(t, func(r *plan.Request) { r.Subject.Unstated = []string{"exit_mm"} })
	if !warned(p, "unstated") {
		t.Errorf("%v", p.Warnings)
	}
}

// A course must last until the flash.
func TestCourseThatEndsTooEarly(t *testing.T) {
	s := bee()
	s.Motion, s.Course = subject.Table, course(t, "time_ms,along_mm\n0,0\n20,30\n")
	_, err := plan.Make(plan.Request{Subject: s, Lag: measured(), Options: plan.DefaultOptions()})
	if err == nil || !strings.Contains(err.Error(),
		"ends 20 ms after the trip, but the flash may fire as late as") {
		t.Errorf("%v", err)
	}
}

// Every preset plans, and its field holds the reach.
func TestPresetsPlan(t *testing.T) {
	for _, name := range subject.Presets() {
		s, err := subject.LoadPreset(name, input.Overrides{})
		if err != nil {
			t.Fatal(err)
		}
		p := makePlan(t, func(r *plan.Request) { r.Subject = s })
		if p.Reach.ProbabilityU > 0.004 || p.Chance.InField.P < 0.94 {
			t.Errorf("%s: %+v", name, p.Reach)
		}
	}
}
