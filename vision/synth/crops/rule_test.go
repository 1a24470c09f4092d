package crops

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"
)

// plainComb is one that can be told easily.
func plainComb() Comb {
	return Comb{Pitch: 10, Long: 20, Blur: 1, Motion: 2, Paper: 0.5, Ink: 0.05, Line: 0.2, Noise: 0.005}
}

func TestWhatCounts(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(c *Comb)
		want  bool
	}{
		{"a plain one", func(*Comb) {}, true},
		{"too fine", func(c *Comb) { c.Pitch = 3.9 }, false},
		{"too short", func(c *Comb) { c.Long = 4 }, false},
		{"out of focus", func(c *Comb) { c.Blur = 3.1 }, false},
		{"moved by a graduation", func(c *Comb) { c.Blur, c.Motion = 0.5, 9.9 }, false},
		{"moved and out of focus", func(c *Comb) { c.Blur, c.Motion = 2.5, 6.5 }, false},
		{"dark", func(c *Comb) { c.Paper, c.Ink, c.Noise = 0.005, 0.0005, 0 }, false},
		{"washed out", func(c *Comb) { c.Paper, c.Ink = 1, 1 }, false},
		{"faint", func(c *Comb) { c.Ink, c.Noise = 0.42, 0 }, false},
		{"lost in noise", func(c *Comb) { c.Noise = 0.2 }, false},
		{"before an uneven backdrop", func(c *Comb) { c.Uneven = 0.2 }, false},
		{"light on dark", func(c *Comb) { c.Paper, c.Ink = c.Ink, c.Paper }, true},
	} {
		k := plainComb()
		c.spoil(&k)
		if k.Counts() != c.want {
			t.Errorf("%s: counts %v", c.name, k.Counts())
		}
	}
}

func TestWhatScaleCanBeRead(t *testing.T) {
	all := slices.Repeat([]bool{true}, 30)
	tens := slices.Repeat([]bool{true, false, false, false, false, false, false, false, false, false}, 3)
	gaps := slices.Repeat([]bool{true, true, true, true, false}, 12)
	for _, c := range []struct {
		counts, longest []bool
		want            string
	}{
		{all, tens, ""},
		{all[:24], tens, "24 graduations count"},
		{gaps, slices.Repeat(tens, 2), "side by side"},
		{all, make([]bool, 30), "0 of the longest"},
	} {
		if got := Why(c.counts, c.longest); (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestWhatEndCanBeRead(t *testing.T) {
	even := func(v float64, n int) []float64 { return slices.Repeat([]float64{v}, n) }
	plain := End{In: even(0.5, 20), Out: even(0.1, 20), Of: 20, Wide: 200, Blur: 1, Pitch: 10,
		Noise: func(float64) float64 { return 0.01 }}
	for _, c := range []struct {
		name, want string
		spoil      func(e *End)
	}{
		{"a plain one", "", func(*End) {}},
		{"half of it covered", "covered", func(e *End) { e.In, e.Out = e.In[:10], e.Out[:10] }},
		{"a third of it covered", "", func(e *End) { e.In, e.Out = e.In[:14], e.Out[:14] }},
		{"as bright as the backdrop", "too like", func(e *End) { e.Out = even(0.45, 20) }},
		{"before stripes", "too like", func(e *End) { e.Out = slices.Repeat([]float64{0.05, 0.9}, 10) }},
		{"before one that is dark in places", "too like", func(e *End) {
			e.In, e.Out = even(0.95, 20), append(even(0.8, 18), 0, 0)
		}},
		{"dark", "dark", func(e *End) { e.In, e.Out = even(0.005, 20), even(0.001, 20) }},
		{"noisy", "too noisy", func(e *End) { e.Noise = func(float64) float64 { return 2 } }},
		{"out of focus", "too blurred", func(e *End) { e.Blur = 4 }},
	} {
		e := plain
		c.spoil(&e)
		if got := e.Why(); (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// Each class shows what it is named after, in a crop that can be drawn by the thousand, the same each
// time.
func TestClasses(t *testing.T) {
	shows := map[string]func(f *Frame) bool{
		"covered": func(f *Frame) bool { return len(f.Scene.Covers) > 0 },
		"glare":   func(f *Frame) bool { return len(f.Scene.Lighting.Glares) > 0 && len(f.Scene.Lighting.Mirrors) > 0 },
		"dark":    func(f *Frame) bool { return len(f.Scene.Lighting.Shades) > 0 },
		"worn":    func(f *Frame) bool { return f.Scene.Ruler.Scratches > 0 },
		"steel":   func(f *Frame) bool { return f.Scene.Ruler.Material.Sheen > 0 },
		"clear":   func(f *Frame) bool { return f.Scene.Ruler.Material.Clear > 0 },
		"moving":  func(f *Frame) bool { return f.Scene.Motion > 0.25*f.Scene.Ruler.Scales[0].Step },
		"noisy":   func(f *Frame) bool { return f.Scene.Camera.Sensor.FullWell <= 2000 },
		"endless": func(f *Frame) bool { return !f.Truth.FrontInView && !f.Truth.RearInView },
	}
	for _, class := range Classes() {
		readable := 0
		for i := range uint64(20) {
			f := At(class, 11, i)
			if n := f.Scene.W * f.Scene.H; n > 2e6 {
				t.Errorf("%s %d has %d pixels", class, i, n)
			}
			if show := shows[class]; show != nil && !show(&f) {
				t.Errorf("%s %d does not show what it is named after: %s", class, i, f.Text)
			}
			if f.Truth.Scales[0].Readable {
				readable++
			}
		}
		if least := 5; readable < least {
			t.Errorf("%s: %d of 20 frames are readable, want %d", class, readable, least)
		}
		a, b := At(class, 11, 3), At(class, 11, 3)
		if a.Text != b.Text || a.Truth.FrontAt != b.Truth.FrontAt {
			t.Errorf("%s: the same frame is posed in two ways", class)
		}
	}
	a, b, c := At("mixed", 1, 2), At("mixed", 1, 2), At("mixed", 2, 2)
	if !bytes.Equal(a.Scene.Draw().Pix, b.Scene.Draw().Pix) {
		t.Error("the same frame is drawn in two ways")
	}
	if a.Text == c.Text {
		t.Error("two seeds pose the same frame")
	}
}

// Covered graduations do not count, and a covered end is not readable.
func TestCovers(t *testing.T) {
	f := faultless("plain", 0)
	s := &f.Scene
	if !f.Truth.FrontRead || !f.Truth.Scales[0].Readable {
		t.Fatalf("the plain frame is not readable: %+v", f.Truth.FrontWhy)
	}
	at := 20.0
	s.Covers = []Cover{{Kind: "clamp", P: at, R: 5, FromQ: -99, Q: 999}, {Kind: "clamp", P: 0, R: 2, FromQ: -99, Q: 999}}
	truth, m := s.Truth(), s.Seen()
	if truth.FrontRead {
		t.Error("a covered end is readable")
	}
	for _, g := range truth.Scales[0].Graduations {
		if p := m.Back(g.At).X; math.Abs(p-at) < 4.5 && g.Seen {
			t.Errorf("the graduation at %.1f mm counts though it is covered", p)
		}
	}
	half := *s
	half.Covers = []Cover{{Kind: "clamp", R: 2, FromQ: -99, Q: 0.3 * s.Ruler.Width}}
	if t2 := half.Truth(); !t2.FrontRead {
		t.Errorf("an end of which a third is covered is not readable: %s", t2.FrontWhy)
	}
}

// A picture without a ruler is of the size it says, and of every kind in turn.
func TestWithout(t *testing.T) {
	kinds := map[string]bool{}
	for i := range uint64(24) {
		kinds[WithoutAt(1, i).Kind] = true
	}
	if len(kinds) < 20 {
		t.Errorf("%d kinds in 24 pictures", len(kinds))
	}
	w := WithoutAt(1, 5)
	if im := w.Draw(); im.Rect.Dx() != w.w || !bytes.Equal(im.Pix, WithoutAt(1, 5).Draw().Pix) {
		t.Error("the same picture is drawn in two ways")
	}
}
