package report

import (
	"math"
	"strings"
	"testing"

	"leadmark/calib"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/testdata/bees"
	"leadmark/fit"
	"leadmark/vision/ruler"
)

func TestHeadSaysTheMostUseful(t *testing.T) {
	for _, c := range []struct {
		name, want string
		r          calib.Result
	}{
		{"lag", "This rig fires 52.30 ms ± 0.38 ms after the beam is broken.", bees.Run(3, 0.4, 0.9)},
		{"advance", "When the flash fires, the front end is 160.7 mm ± 2.2 mm past the program's own " +
			"counting line.", bees.AdvanceOnly(8)},
		{"nothing", "This run could not tell when the rig fires after the beam is broken.", calib.Result{}},
	} {
		if got := Head(c.r).String(); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestSpreadThatMayBeZero(t *testing.T) {
	r := bees.Run(3, 0.4, 0.9)
	r.Fit.Spread = &fit.Estimate{Value: 0, Interval95: fit.Interval{Low: 0, High: 0.3e-3}}
	for _, l := range Answer(r) {
		if l.Key == "spread" && l.Value != "below 0.30 ms" {
			t.Errorf("spread is %q, want an upper bound", l.Value)
		}
	}
}

func TestWhyThereIsNoLag(t *testing.T) {
	shot := func(c runfile.Conditions) calib.FrameResult {
		var f calib.FrameResult
		f.Status, f.Conditions = ruler.StatusRead, c
		return f
	}
	line := &ruler.Line{B: ruler.Point{Y: 1}}
	for _, c := range []struct {
		want string
		r    calib.Result
	}{
		{"no frame could be read", calib.Result{}},
		{"second height", calib.Result{CountLine: line,
			Frames: []calib.FrameResult{shot(runfile.Conditions{Drop: 0.4})}}},
		{"drop_mm", calib.Result{CountLine: line, Run: runfile.Run{Method: runfile.Drop},
			Frames: []calib.FrameResult{shot(runfile.Conditions{})}}},
		{"no delay was swept", calib.Result{CountLine: line, Run: runfile.Run{Method: runfile.Push},
			Frames: []calib.FrameResult{shot(runfile.Conditions{})}}},
		{"needs the trip place", calib.Result{CountLine: line, Run: runfile.Run{Method: runfile.Push},
			Frames: []calib.FrameResult{shot(runfile.Conditions{}), shot(runfile.Conditions{Delay: 0.01})}}},
		// Readings by hand count from a zero that need not be the trip place.
		{"second height", calib.Result{Frames: []calib.FrameResult{shot(runfile.Conditions{Drop: 0.4})}}},
	} {
		if got := Answer(c.r)[0]; got.Known() || !strings.Contains(got.Note, c.want) {
			t.Errorf("note is %q, want one that says %q", got.Note, c.want)
		}
	}
}

func TestSpeedOfAFall(t *testing.T) {
	// v = g t with t = 0.45173 s for a fall of 1.0000 m where g = 9.8010 m/s^2 (OpenStax, College
	// Physics, example 2.16; the answer's digits from memory): 4.4274 m/s.
	v, ok := speedAt(runfile.Conditions{Drop: 1, Gravity: 9.8010}, calib.Result{})
	if !ok || math.Abs(v-9.8010*0.45173) > 5e-4 { // half a unit of the last digit of t, times g
		t.Errorf("speed after 1 m is %v, want 4.4274", v)
	}
}

// A shot whose own lag lies far from the others is drawn at the figure's edge, marked as odd: none
// is left out without a word.
func TestEveryShotHasItsMarkInTheLagFigure(t *testing.T) {
	lags := []float64{0.050, 0.0505, 0.051, 0.2, math.NaN()}
	s := shotList{}
	for range lags {
		s.shots = append(s.shots, shot{FrameResult: &calib.FrameResult{}})
	}
	s.shots[3].Fit.Outlier = true
	a := svg.Axis{Lo: 49, Hi: 52, P0: 14, P1: 706}
	c := newCanvas(layouts[0], 250)
	swarm(c, s, lags, a, 100)
	drawn := c.Body()
	if n := strings.Count(drawn, `class="mk `); n != 3 {
		t.Errorf("%d marks of shots that are not odd\n%s", n, drawn)
	}
	if !strings.Contains(drawn, `class="outlier" cx="686"`) || strings.Count(drawn, "H704") != 1 {
		t.Errorf("the odd shot does not stand at the edge with an arrow out of it\n%s", drawn)
	}
}

// A block's mean is of the shots that follow the others, so its title counts those, and tells of
// the odd ones.
func TestBlockTitleCountsWhatItsMeanIsOf(t *testing.T) {
	s := shotList{conds: []phrase.Condition{{}}, shots: make([]shot, 7)}
	for i := range s.shots {
		s.shots[i].FrameResult = &calib.FrameResult{}
	}
	g := &fit.AdvanceGroup{N: 6, SD: 2.6e-3, Mean: fit.Estimate{Value: 0.1144,
		Interval95: fit.Interval{Low: 0.1117, High: 0.1171}}}
	if got := blockTitle(s, 0, g, false); !strings.Contains(got, ": 6 frames and 1 odd, mean 114.4") {
		t.Error(got)
	}
}
