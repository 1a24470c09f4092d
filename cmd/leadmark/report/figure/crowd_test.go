package figure

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/figure/svg"
)

// shotsOfOne are n shots of one condition.
func shotsOfOne(n int) Shots {
	s := Shots{}
	for range n {
		s.shots = append(s.shots, shot{FrameResult: &calib.FrameResult{}})
	}
	return s
}

// Marks stand where they would if each were held against all that stand already.
func TestMarksStandAsIfHeldAgainstAllOthers(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 8))
	for _, r := range []float64{3, 5} {
		var placed [][2]float64
		side, full := newLanes(), 0
		xs := make([]float64, 400)
		for i := range xs {
			xs[i] = 100 + 60*rnd.NormFloat64()
		}
		slices.Sort(xs)
		for _, x := range xs {
			want, free := heldAgainstAll(placed, x, r)
			y, isFree := side.place(x, r)
			if y != want || isFree != free {
				t.Fatalf("a mark of radius %v at %v stands at %v, %v; want %v, %v", r, x, y, isFree, want, free)
			}
			if placed = append(placed, [2]float64{x, y}); !free {
				full++
			}
		}
		if full == 0 || full == len(xs) {
			t.Errorf("%d of %d marks found no room: the case says nothing", full, len(xs))
		}
	}
}

func heldAgainstAll(placed [][2]float64, x, r float64) (y float64, free bool) {
	for k := range 9 {
		y = float64((k+1)/2) * 2.3 * r * math.Pow(-1, float64(k))
		if !slices.ContainsFunc(placed, func(p [2]float64) bool { return math.Hypot(p[0]-x, p[1]-y) < 2.2*r }) {
			return y, true
		}
	}
	return 0, false
}

// Of more than 300 shots those that are not odd are counted by bars, each once; the odd ones, and what
// lies beyond the figure, have marks. Up to 300 each has its mark.
func TestManyLagsAreCountedAndOddOnesMarked(t *testing.T) {
	a := svg.Axis{Lo: 49, Hi: 52, P0: 14, P1: 706}
	for _, n := range []int{300, 301, 5000} {
		rnd := rand.New(rand.NewPCG(uint64(n), 1))
		s := shotsOfOne(n)
		lags := make([]float64, n)
		for i := range lags {
			lags[i] = (50.5 + 0.3*min(max(rnd.NormFloat64(), -4), 4)) * 1e-3
		}
		lags[7], lags[9], lags[11] = 0.2, math.NaN(), 0.0515
		s.shots[7].Fit.Outlier, s.shots[11].Fit.Outlier = true, true
		lags[13] = 0.2
		bars := lagBars(s, lags, a)
		c := newCanvas(layouts[2], 250)
		swarm(c, s, lags, a, 100)
		marks, odd := strings.Count(c.Body(), `class="mk `), strings.Count(c.Body(), `<circle class="outlier"`)
		wantMarks, wantBars := n-3, 0
		if n > 300 {
			wantMarks, wantBars = 1, n-4
		}
		counted := 0
		if bars != nil {
			for _, k := range bars.counts {
				counted += sum(k)
			}
		}
		if marks != wantMarks || odd != 2 || counted != wantBars || (bars != nil) != (n > 300) {
			t.Errorf("%d shots: %d marks, %d odd ones, %d counted; want %d, 2, %d", n, marks, odd, counted, wantMarks, wantBars)
		}
	}
}

// A bin's bar is as wide as the bin, and as high as its share of the highest; they lie within the axis.
func TestBars(t *testing.T) {
	a := svg.Axis{Lo: 0, Hi: 10, P0: 0, P1: 100}
	h := histogram{width: 2, counts: [][6]int{{1, 1}, {4}, {}, {}, {}, {1}}, highest: 4}
	c := newCanvas(layouts[0], 100)
	h.draw(c, a, 80, 40)
	for _, want := range []string{
		`<rect class="bar s0" x="0" y="70" width="20" height="10"/><rect class="bar s1" x="0" y="60" width="20" height="10"/>`,
		`<rect class="bar s0" x="20" y="40" width="20" height="40"/>`, `x="100" y="70" width="0"`} {
		if !strings.Contains(c.Body(), want) {
			t.Errorf("the bars lack %s\n%s", want, c.Body())
		}
	}
	if strings.Count(c.Body(), "<rect") != 4 {
		t.Errorf("there are others\n%s", c.Body())
	}
}
