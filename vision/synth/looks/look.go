package looks

import "leadmark/vision/synth/paint"

const mm = 1e-3 // m

// Step gives the marks whose number is a multiple of Every their length, m.
type Step struct {
	Every  int
	Length float64
}

// Scale is one row of graduations along one edge of the ruler.
type Scale struct {
	Pitch     float64 // m between graduations
	LineWidth float64 // m
	Steps     []Step  // from the shortest marks to the longest; the last that fits counts
	Far       bool    // at the edge v = +width/2 instead of -width/2
	Gap       float64 // m between that edge and the marks
	From, To  int     // first and last graduation, by number

	NumeralEvery  int     // graduations between numerals; 0 for none
	NumeralStep   int     // what the numerals count up by
	NumeralHeight float64 // m
	NumeralGap    float64 // m between the longest marks and the numerals; 0 for the usual
	Turned        bool    // numerals stand on their heads

	Code *CodeTrack // nil for none
}

// Grain is the texture of a ruler's material.
type Grain string

// The grains a ruler can have.
const (
	Smooth  Grain = ""
	Paper   Grain = "paper"
	Brushed Grain = "brushed"
	Wood    Grain = "wood"
)

// Hole is a round hole through the ruler, on its long axis.
type Hole struct{ At, Radius float64 } // m

// Band is a bold band across the ruler; At is the reading of its leading edge.
type Band struct {
	At, Width float64 // m
	Colour    paint.RGB
}

// Look is a kind of ruler. Lengths in metres; the front end lies Margin before the zero line.
type Look struct {
	Name                  string
	Length, Width, Margin float64
	Base, Ink             paint.RGB
	Grain                 Grain
	GrainDepth            float64 // relative depth of the texture
	Wear                  float64 // 0 to 1, how worn the print is
	Opacity               float64 // 1 lets nothing through
	Gloss                 float64 // strength of the mirror-like part
	Round, Chamfer        float64 // m, of the corners
	Bevel                 float64 // relative shading along the edges
	Hook                  float64 // m, length of a metal hook over the front end
	Hole                  *Hole
	Band                  *Band
	Scales                []Scale // the first is the one that truth speaks of
}

// Front returns the reading at the front end, m.
func (l *Look) Front() float64 { return 0 - l.Margin }

// Graduation returns the pitch of the ruler's first scale, m.
func (l *Look) Graduation() float64 { return l.Scales[0].Pitch }

func (s *Scale) length(i int) float64 {
	l := 0.0
	for _, st := range s.Steps {
		if i%st.Every == 0 {
			l = st.Length
		}
	}
	return l
}

func (s *Scale) longest() float64 {
	l := 0.0
	for _, st := range s.Steps {
		l = max(l, st.Length)
	}
	return l
}

// numerals returns how far inward the numerals begin.
func (s *Scale) numerals() float64 {
	if s.NumeralGap > 0 {
		return s.longest() + s.NumeralGap
	}
	return s.longest() + numeralGap
}

// Middle returns v at the middle of the shortest marks, on a ruler of the given width.
func (s *Scale) Middle(width float64) float64 {
	v := -width/2 + s.Gap + s.Steps[0].Length/2
	if s.Far {
		return -v
	}
	return v
}

const numeralGap = 0.7 * mm // between the longest marks and the numerals
