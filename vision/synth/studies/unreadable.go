package studies

import (
	"fmt"
	"image"
	"math/rand/v2"

	"leadmark/vision/synth/paint"
	"leadmark/vision/synth/patterns"
	"leadmark/vision/synth/photo"
)

// Unreadable is one picture in which there is no ruler to be read.
type Unreadable struct {
	Kind string
	Draw func() *image.RGBA
}

// UnreadableAt gives one picture of a series: one in four of a ruler that nobody can read
// (blurred away, black, hidden, gone), the others of regular things that are no rulers.
func UnreadableAt(seed, number uint64) Unreadable {
	if number%4 != 3 {
		kinds := patterns.Kinds()
		v := patterns.At(kinds[int(number-number/4)%len(kinds)], seed, number)
		return Unreadable{Kind: fmt.Sprintf("%s (%.0f px)", v.Kind, v.Pitch), Draw: v.Draw}
	}
	for try := uint64(0); ; try++ {
		rnd := rand.New(rand.NewPCG(seed, number<<16|try))
		s, kind := spoiled(paint.NewChance(rnd), int(number/4)%4)
		s.Seed, s.Shot = seed*1_000_003+number, number
		if s.Foretell().Why != "" {
			return Unreadable{Kind: kind, Draw: func() *image.RGBA {
				im, _ := photo.Render(s)
				return im
			}}
		}
	}
}

// spoiled poses a ruler and takes it away again.
func spoiled(c paint.Chance, way int) (photo.Scene, string) {
	s := drawn([]string{"plain", "tilted", "dim"}[c.IntN(3)], c.Rand).Scene
	pitch := s.FrontPxPerM() * s.Look.Graduation()
	switch way {
	case 0:
		s.Softness = c.Span(2.6, 5) * pitch
		return s, "blurred away"
	case 1:
		s.Unfired, s.Ambient = true, c.Span(0, 0.004)
		return s, "black"
	case 2: // six graduations at the most are left
		s.Grips = []photo.Grip{{Kind: "sleeve", At: s.Look.Front() + c.Span(0, 4)*s.Look.Graduation() - 1.2*mm}}
		return s, "hidden"
	}
	s.NoRuler = true
	return s, "gone"
}
