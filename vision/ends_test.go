package vision

import (
	"math"
	"math/rand/v2"
	"testing"

	"leadmark/vision/marks"
	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
)

// bench is a picture drawn for a test: a ruler from 150 to 590, its marks 8 px apart from 190 on,
// below a backdrop; what lies over it is laid on last.
type bench struct {
	backdrop func(x, y int) float64
	light    func(x, y int) float64 // by which all is multiplied; nil: even
	over     func(x, y int) (float64, bool)
	order    func(k int) int // length of mark k, px
}

const (
	benchW, benchH       = 640, 240
	benchTop, benchFoot  = 70, 170
	benchEnd, benchFirst = 150, 190
	benchPitch           = 8
)

// millimetre is the length of a millimetre ruler's mark.
func millimetre(k int) int {
	switch {
	case k%10 == 0:
		return 34
	case k%5 == 0:
		return 25
	}
	return 16
}

func (b bench) tone(x, y int) float64 {
	v := b.backdrop(x, y)
	if x >= benchEnd && x < 590 && y >= benchTop && y < benchFoot {
		v = 200
		if k := (x - benchFirst + 1) / benchPitch; x >= benchFirst && (x-benchFirst)%benchPitch < 2 && x < 580 && y < benchTop+b.order(k) {
			v = 40
		}
	}
	if b.over != nil {
		if w, ok := b.over(x, y); ok {
			v = w
		}
	}
	if b.light != nil {
		v *= b.light(x, y)
	}
	return v
}

// draw makes the picture, a little blurred and with noise.
func (b bench) draw() *pixel.Gray {
	g := pixel.NewGray(benchW, benchH)
	r := rand.New(rand.NewPCG(7, 7))
	for y := range benchH {
		for x := range benchW {
			v := 0.5*b.tone(x, y) + 0.125*(b.tone(x-1, y)+b.tone(x+1, y)+b.tone(x, y-1)+b.tone(x, y+1))
			g.Pix[y*benchW+x] = uint8(max(0, min(255, v+1.5*r.NormFloat64())))
		}
	}
	return g
}

func (b bench) read(spec ruler.Spec) ruler.Reading {
	p := whole(b.draw())
	return reading.Interpret(ruler.Sighting{Width: benchW, Height: benchH, Rows: marks.Detect(p, ruler.Hint{})}, spec)
}

func grey(v float64) func(x, y int) float64 { return func(_, _ int) float64 { return v } }

// within lays a tone over a part of the picture.
func within(tone float64, in func(x, y int) bool) func(x, y int) (float64, bool) {
	return func(x, y int) (float64, bool) { return tone, in(x, y) }
}

// What is to be seen of an end: where none can be told from what lies about it, it may be missed, but
// not be found elsewhere.
const (
	hidden = iota
	maybe
	seen
)

// TestEndsAreTheRulersOwn draws what an end may be taken for: an end is found where it is, or none.
func TestEndsAreTheRulersOwn(t *testing.T) {
	toward := ruler.Spec{Toward: ruler.Point{X: -1}}
	for name, c := range map[string]struct {
		b   bench
		end int
	}{
		"plain":           {bench{backdrop: grey(90)}, seen},
		"falling light":   {bench{backdrop: grey(90), light: func(x, _ int) float64 { return 0.4 + 0.6*float64(x)/benchW }}, seen},
		"textured":        {bench{backdrop: func(x, y int) float64 { return 90 + 25*math.Sin(float64(x)/5)*math.Sin(float64(y)/4) }}, seen},
		"rounded corners": {bench{backdrop: grey(90), over: within(90, rounded)}, seen},
		"out of the picture": {bench{backdrop: grey(90), over: within(200, func(x, y int) bool {
			return x < benchEnd && y >= benchTop && y < benchFoot
		})}, hidden},
		"glare": {bench{backdrop: grey(90), over: func(x, y int) (float64, bool) {
			if y < benchTop || y >= benchFoot || x >= benchFirst-12 {
				return 0, false
			}
			return 250, true
		}}, hidden},
		"thumb": {bench{backdrop: grey(90), over: within(140, func(x, _ int) bool { return x < benchFirst-10 && x > 40 })}, hidden},
		"in a shade": {bench{backdrop: grey(60), light: func(x, _ int) float64 {
			if x < 300 {
				return 0.12
			}
			return 1
		}}, maybe},
		"with a shadow": {bench{backdrop: grey(120), over: within(50, func(x, y int) bool {
			return x >= benchEnd-22 && x < benchEnd && y >= benchTop+10 && y < benchFoot+10
		})}, maybe},
		"with a card beside, as light as it": {bench{backdrop: grey(90), over: within(200, func(x, y int) bool {
			return x >= 60 && x < 260 && y >= benchFoot
		})}, hidden},
		"dark thumb": {bench{backdrop: grey(130), over: within(60, func(x, _ int) bool { return x < benchFirst-10 && x > 40 })}, hidden},
	} {
		c.b.order = millimetre
		r := c.b.read(toward)
		if c.end == maybe && r.Front == nil {
			continue
		}
		if c.end == hidden {
			if r.Front != nil {
				t.Errorf("%s: an end is found at %.1f, and none is to be seen", name, r.Front.At.X)
			}
			if r.Reason.Code != "front-not-visible" {
				t.Errorf("%s: %s %v", name, r.Status, r.Reason)
			}
			continue
		}
		if r.Front == nil || math.Abs(r.Front.At.X-(benchEnd-0.5)) > 0.5 {
			t.Errorf("%s: the end lies at %.1f; found %+v (%v)", name, benchEnd-0.5, r.Front, r.Reason)
		}
	}
}

// Past the end of a ruler as light as 200 some of what it lies on is lighter, some darker and some alike:
// no edge goes all across, but its face ends. Where the end must lie is known.
func TestEndsOnSlats(t *testing.T) {
	front := -float64(benchFirst-benchEnd) / benchPitch * 1e-3
	for name, backdrop := range map[string]func(x, y int) float64{
		"lighter and darker": slats(60, 245), "darker and alike": slats(90, 200), "lighter and alike": slats(250, 200),
		"textured": func(x, y int) float64 { return 200 + 50*math.Sin(float64(x)/5+math.Sin(float64(y)/3)) },
	} {
		b := bench{backdrop: backdrop, order: millimetre}
		r := b.read(ruler.Spec{Toward: ruler.Point{X: -1}, Front: &front})
		if r.Front == nil || math.Abs(r.Front.At.X-(benchEnd-0.5)) > 0.5 || !r.Absolute {
			t.Errorf("%s: the end lies at %.1f; found %+v (%v)", name, benchEnd-0.5, r.Front, r.Reason)
		}
	}
}

// slats are of two tones by turns, and run aslant.
func slats(one, other float64) func(x, y int) float64 {
	return func(x, y int) float64 {
		if (x+y)/11%2 == 0 {
			return one
		}
		return other
	}
}

// rounded are the parts that round corners take off the ruler's end.
func rounded(x, y int) bool {
	const radius = 30
	dx, dy := float64(benchEnd+radius-x), max(float64(benchTop+radius-y), float64(y-benchFoot+radius+1))
	return dx > 0 && dy > 0 && dx*dx+dy*dy > radius*radius && x >= benchEnd && y >= benchTop && y < benchFoot
}

// A row that is followed on into lines that stand behind the ruler at random ends where that does, but
// for a few that stand by chance where the ruler's would be.
func TestRowEndsWithTheRuler(t *testing.T) {
	const rulers, fewest = 6, 1.5 // of lines past the end, a ruler
	past := 0
	for seed := range uint64(rulers) {
		r := rand.New(rand.NewPCG(seed, 3))
		dark := map[int]bool{}
		for x := 0; x < benchW; x += 6 + r.IntN(5) {
			dark[x], dark[x+1] = true, true
		}
		b := bench{order: millimetre, backdrop: func(x, _ int) float64 {
			if dark[x] {
				return 30
			}
			return 110
		}}
		b.over = func(x, y int) (float64, bool) { return b.backdrop(x, y), x < benchFirst-2 }
		got := b.read(ruler.Spec{})
		if got.Status != ruler.StatusRead {
			t.Errorf("seed %d: %s %v", seed, got.Status, got.Reason)
			continue
		}
		for g := range got.Graduations.All() {
			if g.At.X < benchFirst-benchPitch/2 {
				past++
			}
		}
	}
	if past > fewest*rulers {
		t.Errorf("%d lines of the backdrop were taken for the ruler's", past)
	}
}
