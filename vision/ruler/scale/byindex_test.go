package scale

import (
	"math"
	"math/rand/v2"
	"testing"

	"leadmark/vision/ruler"
)

// A ruler seen at a slant: its marks are laid by a projective scale of which the pitch changes by half
// over the row, and placed with known errors. Place and pitch come out, and as surely as is stated.
func TestFitOfASlantedRow(t *testing.T) {
	const n, noise, rows, a, b, c = 61, 0.05, 300, 400.0, 300.0, 0.12
	place := func(index float64) float64 {
		m := (index - 30) / 30
		return (a + b*m) / (1 + c*m)
	}
	rnd := rand.New(rand.NewPCG(4, 19))
	square := map[float64]float64{}
	stated := map[float64]float64{}
	for range rows {
		var marks []ruler.Mark
		for i := range n {
			marks = append(marks, ruler.Mark{Index: i, T: place(float64(i)) + noise*rnd.NormFloat64()})
		}
		l, ok := Fit(marks)
		if !ok {
			t.Fatal("no scale")
		}
		for _, at := range []float64{0, 30, 60} {
			d := l.Place(at) - place(at)
			if !(math.Abs(d) < 0.1) {
				t.Fatalf("mark %g is placed %.3f px off", at, d)
			}
			square[at] += d * d / rows
			stated[at] += variance(&l, at) / rows
		}
		if want := place(0.5) - place(-0.5); !(math.Abs(l.Pitch(0)/want-1) < 2e-3) {
			t.Errorf("a pitch of %.3f px, truly %.3f", l.Pitch(0), want)
		}
	}
	for at := range square { // 300 rows: a ratio of standard deviations is known to 4 %
		if ratio := math.Sqrt(square[at] / stated[at]); !(ratio > 0.85 && ratio < 1.15) {
			t.Errorf("mark %g: error over stated uncertainty %.2f", at, ratio)
		}
	}
}

// variance is that of a place, of the stated covariance of a, b and c.
func variance(l *ByIndex, index float64) float64 {
	m := (index - l.Mid) / l.Half
	den := 1 + l.C*m
	j := [3]float64{1 / den, m / den, -m * (l.A + l.B*m) / (den * den)}
	v := 0.0
	for i := range j {
		for k := range j {
			v += j[i] * j[k] * l.Cov[i][k]
		}
	}
	return v
}

// The derivatives of an index are those of differences.
func TestIndexSlopes(t *testing.T) {
	l := ByIndex{A: 400, B: 300, C: 0.12, Mid: 30, Half: 25}
	const at, h = 520.0, 1e-5
	u, by := l.IndexSlopes(at)
	if u != l.Index(at) {
		t.Errorf("%v is at %v, else at %v", at, u, l.Index(at))
	}
	for k, p := range []*float64{&l.A, &l.B, &l.C} {
		*p += h
		more := l.Index(at)
		*p -= 2 * h
		if want := (more - l.Index(at)) / (2 * h); !(math.Abs(by[k]/want-1) < 1e-5) {
			t.Errorf("parameter %d: %v, by differences %v", k, by[k], want)
		}
		*p += h
	}
}
