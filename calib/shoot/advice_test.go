package shoot

import (
	"strings"
	"testing"
	"time"

	"leadmark/calib/plan"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/calib/words"
	"leadmark/vision/animal"
	"leadmark/vision/frame"
)

func told(r *Result) string {
	all := strings.Join(words.Sentences(r.Advice), "\n")
	for _, w := range r.Warnings {
		all += "\n" + words.Reason(w)
	}
	return all
}

func planned(speed float64) plan.Plan {
	return plan.Plan{Request: plan.Request{Subject: subject.Subject{Motion: subject.Straight,
		Speed: speed, Length: 0.012}, Lag: predict.Law{Mean: 0.05}}}
}

// A speed learned that is not the plan's moves the aim by the difference times the lag: 0.3 m/s x
// 50 ms = 15 mm.
func TestSpeedAdvice(t *testing.T) {
	r := &Result{Plan: planned(1.0), Learned: &Learned{N: 20, Speed: 1.3,
		Speed95: [2]float64{1.2, 1.4}}}
	r.speedAdvice()
	if s := told(r); !strings.Contains(s, "aim 15.0 mm further from") ||
		!strings.Contains(s, "set the beam back by 15.0 mm") {
		t.Error(s)
	}
	r = &Result{Plan: planned(1.0), Learned: &Learned{N: 20, Speed: 0.8,
		Speed95: [2]float64{0.7, 0.9}}}
	r.speedAdvice()
	if s := told(r); !strings.Contains(s, "aim 10.0 mm nearer to") ||
		!strings.Contains(s, "add 12.5 ms of delay") {
		t.Error(s)
	}
	r = &Result{Plan: planned(1.0), Learned: &Learned{N: 20, Speed: 1.05,
		Speed95: [2]float64{0.95, 1.15}}}
	if r.speedAdvice(); len(r.Advice) > 0 {
		t.Errorf("the plan's speed is in the interval: %s", told(r))
	}
}

// Of unsharp frames the commonest cause is named with its remedy.
func TestSharpAdvice(t *testing.T) {
	for cause, remedy := range map[string]string{CauseMotion: "use less power",
		CauseFocus: "focus lies elsewhere", CauseShake: "the camera or the set moved"} {
		r := &Result{}
		for i := range 6 {
			f := FrameResult{Measured: true, Sharp: i >= 4}
			if !f.Sharp {
				f.Cause = cause
			}
			r.Frames = append(r.Frames, f)
		}
		r.sharpAdvice()
		if s := told(r); !strings.Contains(s, "4 of 6") || !strings.Contains(s, remedy) {
			t.Errorf("%s: %s", cause, s)
		}
	}
}

// A plan that has a third in focus is not at odds with seven in focus of 23, nor with twenty, but
// with none.
func TestFocusAsPlanned(t *testing.T) {
	for k, want := range map[int]bool{0: false, 2: false, 7: true, 20: true} {
		if asFocused(k, 23, 0.36) != want {
			t.Errorf("%d of 23 in focus: as planned is %v", k, !want)
		}
	}
}

// The plan's limit, 0.2 mm on a print 250 mm long (common practice, no source), is 4.8 px of 6000; no picture is
// judged finer than 3 px. Of a Gaussian 10 to 90 % are 2.5631 standard deviations (normal tables).
func TestSharpnessLimit(t *testing.T) {
	for _, c := range []struct {
		width float64 // px, 10 to 90 %
		long  int
		sharp bool
	}{{4.75, 6000, true}, {4.85, 6000, false}, {2.95, 1200, true}, {3.05, 1200, false}, {6.35, 8000, true}, {6.45,
		8000, false}} {
		e := animal.Edges{Blur: c.width / 2.5631}
		if sharp, _ := Sharpness(e, [2]float64{1, 0}, c.long); sharp != c.sharp {
			t.Errorf("%v px of %d: sharp %v", c.width, c.long, sharp)
		}
	}
}

// Edges' causes: the larger of the round part and the motion, by the motion's direction; none where
// they are within what counts as sharp.
func TestSharpness(t *testing.T) {
	right, up := animal.Point{X: 1}, animal.Point{Y: 1}
	for _, c := range []struct {
		e     animal.Edges
		sharp bool
		cause string
	}{
		{animal.Edges{Blur: 1, Motion: 1, Direction: right}, true, ""},
		{animal.Edges{Blur: 3, Motion: 1, Direction: right}, false, CauseFocus},
		{animal.Edges{Blur: 1, Motion: 8, Direction: right}, false, CauseMotion},
		{animal.Edges{Blur: 1, Motion: 8, Direction: up}, false, CauseShake},
	} {
		if sharp, cause := Sharpness(c.e, [2]float64{1, 0}, 1200); sharp != c.sharp ||
			cause != c.cause {
			t.Errorf("%+v: sharp %v, %q", c.e, sharp, cause)
		}
	}
	// 4.8 px are sharp on the plan's print
	if sharp, _ := Sharpness(animal.Edges{Blur: 1.5}, [2]float64{1, 0}, 6000); !sharp {
		t.Error("a large picture is judged by its print")
	}
}

// Frames older than the calibration in force are said to be.
func TestOlderPlan(t *testing.T) {
	day := time.Date(2026, 5, 3, 10, 0, 0, 0, time.UTC)
	r := &Result{Frames: []FrameResult{{Frame: frame.Frame{Taken: day.Add(-time.Hour)}},
		{Frame: frame.Frame{Taken: day.Add(time.Hour)}}, {}}}
	if r.ageDoubt(day); !strings.Contains(told(r),
		"older-plan: frames taken before the calibration") {
		t.Error(told(r))
	}
	r = &Result{Frames: r.Frames}
	if r.ageDoubt(time.Time{}); len(r.Warnings) > 0 {
		t.Error("an assumed lag has no age")
	}
}

// Ratings by their rules.
func TestRatings(t *testing.T) {
	whole := animal.Animal{Margins: [4]float64{90, 90, 90, 90}}
	cut, burnt, near := whole, whole, whole
	cut.Touches, burnt.Clipped, near.Margins[2] = []string{animal.Right}, 0.05, 3
	for _, c := range []struct {
		f    FrameResult
		want int
	}{
		{FrameResult{}, 0},
		{FrameResult{Animal: &cut, Animals: 1, Sharp: true, Clean: true}, 1},
		{FrameResult{Animal: &whole, Animals: 1, Clean: true}, 2},
		{FrameResult{Animal: &burnt, Animals: 1, Sharp: true, Clean: true}, 3},
		{FrameResult{Animal: &whole, Animals: 1, Sharp: true}, 3},
		{FrameResult{Animal: &near, Animals: 1, Sharp: true, Clean: true}, 4},
		{FrameResult{Animal: &whole, Animals: 2, Sharp: true, Clean: true}, 4},
		{FrameResult{Animal: &whole, Animals: 1, Sharp: true, Clean: true}, 5},
	} {
		if got := c.f.rate(1000); got != c.want {
			t.Errorf("%+v: rating %d, want %d", c.f, got, c.want)
		}
	}
}
