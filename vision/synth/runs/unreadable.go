package runs

import (
	"fmt"
	"image"
	"math/rand/v2"
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
		kinds := patternKinds()
		v := patternAt(kinds[int(number-number/4)%len(kinds)], seed, number)
		return Unreadable{Kind: fmt.Sprintf("%s (%.0f px)", v.kind, v.pitch), Draw: v.draw}
	}
	for try := uint64(0); ; try++ {
		rnd := rand.New(rand.NewPCG(seed, number<<16|try))
		s, kind := spoiled(newChance(rnd), int(number/4)%4)
		s.Seed, s.Shot = seed*1_000_003+number, number
		if s.Foretell().Why != "" {
			return Unreadable{Kind: kind, Draw: func() *image.RGBA {
				im, _ := Render(s)
				return im
			}}
		}
	}
}

// spoiled poses a ruler and takes it away again.
func spoiled(c chance, way int) (Scene, string) {
	s := studyDraw([]string{"plain", "tilted", "dim"}[c.IntN(3)], c.Rand).Scene
	pitch := s.FrontPxPerM() * s.Look.Graduation()
	switch way {
	case 0:
		s.Softness = c.span(2.6, 5) * pitch
		return s, "blurred away"
	case 1:
		s.Unfired, s.Ambient = true, c.span(0, 0.004)
		return s, "black"
	case 2: // six graduations at the most are left
		s.Grips = []Grip{{Kind: "sleeve", At: s.Look.Front() + c.span(0, 4)*s.Look.Graduation() - 1.2*studyMM}}
		return s, "hidden"
	}
	s.NoRuler = true
	return s, "gone"
}
