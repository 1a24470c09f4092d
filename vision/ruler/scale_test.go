package ruler

import (
	"math"
	"math/rand/v2"
	"testing"
)

// tilted is a scale seen at a slant: 8 px a millimetre at its zero, less by a fifth 0.1 m on.
func tilted() Scale {
	sin, cos := math.Sincos(0.2)
	s := Scale{Origin: Point{300, 200}, Dir: Point{cos, sin}, Lean: 0.08, LeanTurn: 2e-5, Side: 1,
		T0: 20, T1: 8020, T2: 1.1}
	s.Long = Line{s.Origin, s.Origin.Add(s.Dir)}
	return s
}

// What is read at a place is what was put there: a graduation of reading r lies at
// (T0 + T1 r) / (1 + T2 r) along the axis, and its line leans.
func TestReadsWhatIsPlaced(t *testing.T) {
	s := tilted()
	for _, r := range []float64{0, 0.01, 0.05, 0.1, -0.004} {
		along := (20 + 8020*r) / (1 + 1.1*r)
		for _, across := range []float64{0, 40, -25} {
			on := along + (0.08+2e-5*along)*across
			p := Point{300 + s.Dir.X*on - s.Dir.Y*across, 200 + s.Dir.Y*on + s.Dir.X*across}
			if got := s.Reading(s.Along(p)); math.Abs(got-r) > 1e-9 {
				t.Errorf("%g m, %g px across, is read as %.6f", r, across, got)
			}
		}
		const h = 1e-6
		slope := ((20+8020*(r+h))/(1+1.1*(r+h)) - (20+8020*(r-h))/(1+1.1*(r-h))) / (2 * h)
		if got := s.PxPerM(r); math.Abs(got/slope-1) > 1e-6 {
			t.Errorf("%g m: %.3f px per metre, truly %.3f", r, got, slope)
		}
		if got := s.T(r); math.Abs(got-along) > 1e-9 {
			t.Errorf("%g m lies at %.4f px, truly %.4f", r, got, along)
		}
	}
}

// The stated uncertainty of a reading is the scatter of readings by scales drawn from their
// covariance, at places drawn as uncertain as they are stated to be.
func TestUncertaintyOfAReading(t *testing.T) {
	s := tilted()
	sd := [3]float64{0.2, 6, 0.01}
	for i := range sd {
		s.Cov[i][i] = sd[i] * sd[i]
	}
	s.PlaceU = 0.3
	across := Line{s.Origin.Add(s.Dir.Mul(700)), s.Origin.Add(s.Dir.Mul(700)).Add(s.MarkDir(700))}
	want, u, _, ok := s.At(across)
	if !ok {
		t.Fatal("the line does not cross the ruler")
	}
	rnd, square := rand.New(rand.NewPCG(1, 19)), 0.0
	const draws = 20000
	for range draws {
		a, b, c := 20+sd[0]*rnd.NormFloat64(), 8020+sd[1]*rnd.NormFloat64(), 1.1+sd[2]*rnd.NormFloat64()
		at := 700 + 0.3*rnd.NormFloat64()
		d := (at-a)/(b-c*at) - want
		square += d * d
	}
	if scatter := math.Sqrt(square / draws); !(math.Abs(u/scatter-1) < 0.03) {
		t.Errorf("stated %.3g m, drawn %.3g", u, scatter)
	}
}

// By hand, in a triangle of sides 3, 4 and 5: what drawings and readings alike count by.
func TestGeometry(t *testing.T) {
	p, q := Point{3, 4}, Point{1, -2}
	l := Line{Point{0, 0}, Point{3, 4}}
	for what, ok := range map[string]bool{
		"add": p.Add(q) == Point{4, 2}, "sub": p.Sub(q) == Point{2, 6}, "mul": p.Mul(2) == Point{6, 8},
		"dot": p.Dot(q) == -5, "cross": p.Cross(q) == -10, "len": p.Len() == 5,
		"unit": p.Unit().Sub(Point{0.6, 0.8}).Len() < 1e-15, "perp": Point{1, 0}.Perp() == Point{0, 1},
		"distance":   math.Abs(l.Distance(Point{0, 5})-3) < 1e-12,
		"other side": math.Abs(l.Distance(Point{5, 0})+4) < 1e-12,
	} {
		if !ok {
			t.Error(what)
		}
	}
	if at, ok := l.Meet(Line{Point{0, 5}, Point{1, 5}}); !ok || at.Sub(Point{3.75, 5}).Len() > 1e-12 {
		t.Errorf("lines meet at %v", at)
	}
	if _, ok := l.Meet(Line{Point{1, 0}, Point{4, 4}}); ok {
		t.Error("parallel lines meet")
	}
}
