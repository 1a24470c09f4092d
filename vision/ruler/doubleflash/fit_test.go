package doubleflash

import (
	"math"
	"math/rand/v2"
	"testing"

	"leadmark/vision/ruler"
)

// drawn is a ruler in millimetres as two flashes show it, in light, its front end towards rising T: what
// Fit is given, and where the first flash's lines are. A share of each sample is covered by a line.
type drawn struct {
	pitch, bent float64 // px; of the scale
	moved, gain float64 // graduations
	noise       float64 // of light
	flashes     float64 // 1 or 2
}

const lines = 50 // that stand before the front end

// place is where line n of the first flash stands; the front end is 0.
func (d drawn) place(n float64) float64 { return d.pitch * n / (1 + d.bent*n) }

func (d drawn) row() (r ruler.Row) {
	r.Dir, r.Pitch = ruler.Point{X: 1}, d.pitch
	for n := -lines; n <= 0; n++ {
		r.Marks = append(r.Marks, ruler.Mark{Index: n, T: d.place(float64(n)), Strength: 1})
	}
	for _, at := range []float64{0, d.moved} {
		r.Steps = append(r.Steps, ruler.Step{T: d.place(at), Contrast: -0.3, Coherent: 1})
	}
	return r
}

func (d drawn) face(rnd *rand.Rand) Face {
	const fine = 8
	f := Face{T0: d.place(-lines) - 5, Step: 1}
	for band := range 27 {
		light := make([]float64, int(d.place(d.moved+8)-f.T0))
		for i := range light {
			for k := range fine {
				t := f.T0 + float64(i) + (float64(k)+0.5)/fine - 0.5
				u := t / (d.pitch - d.bent*t)
				light[i] += (d.light(u, band) + (d.flashes-1)*d.gain*d.light(u-d.moved, band)) / (1 + d.gain) / fine
			}
			light[i] += d.noise * rnd.NormFloat64()
		}
		f.Light = append(f.Light, light)
	}
	return f
}

// light is what one flash shows at u in a band: lines a fifth of a graduation wide, those of 5 and 10
// longer.
func (d drawn) light(u float64, band int) float64 {
	n := int(math.Round(u))
	long := 3
	if n%10 == 0 {
		long = 8
	} else if n%5 == 0 {
		long = 5
	}
	switch {
	case u > 0:
		return 0.1
	case math.Abs(u-float64(n)) < 0.1 && band >= 10 && band <= 13+long:
		return 0.2
	}
	return 0.8
}

func spec() ruler.Spec {
	front := 0.0
	return ruler.Spec{Graduation: 1e-3, Front: &front, Toward: ruler.Point{X: 1}, Twin: true}
}

// The movement comes out as surely as is stated, and so do the first flash's lines, whichever flash is
// the brighter one, however the lines overlap.
func TestMovement(t *testing.T) {
	rnd := rand.New(rand.NewPCG(31, 7))
	const n = 24
	seen, square := 0, 0.0
	for range n {
		d := drawn{pitch: 9 + 6*rnd.Float64(), bent: 2e-3 * (rnd.Float64() - 0.5), moved: 1 + 8*rnd.Float64(),
			gain: math.Exp(1.4*rnd.Float64() - 0.7), noise: 0.03, flashes: 2}
		got := Fit(d.row(), d.face(rnd), spec())
		if got == nil {
			t.Logf("%+v: not seen", d)
			continue
		}
		seen++
		z := (got.Moved - d.moved) / got.MovedU
		square += z * z
		if !(math.Abs(z) < 4) {
			t.Errorf("%+v: moved %.4f graduations (u %.4f)", d, got.Moved, got.MovedU)
		}
		for _, k := range got.Lines {
			n := math.Round(k.T / (d.pitch - d.bent*k.T))
			if off := k.T - d.place(n); !(math.Abs(off) < 0.5) || (k.Index-int(n))%10 != 0 {
				t.Errorf("%+v: line %d is placed %.2f px off", d, k.Index, off)
			}
		}
	}
	// placing is for what real pictures hold, and is most of u here
	if spread := math.Sqrt(square / float64(seen)); seen < n-2 || !(spread > 0.15 && spread < 1.3) {
		t.Errorf("%d of %d seen; error over stated u %.2f", seen, n, spread)
	}
}

// Two edges and one comb, or light alone, are no two flashes.
func TestOneCombIsNoTwin(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 7))
	for range 8 {
		d := drawn{pitch: 9 + 6*rnd.Float64(), moved: 1 + 8*rnd.Float64(), gain: 1, noise: 0.03, flashes: 1}
		if got := Fit(d.row(), d.face(rnd), spec()); got != nil {
			t.Errorf("%+v: moved %.3f graduations", d, got.Moved)
		}
	}
}

// Without the way that the front end points nothing can be told.
func TestNoWay(t *testing.T) {
	d := drawn{pitch: 12, moved: 3.4, gain: 1, noise: 0.03, flashes: 2}
	f := d.face(rand.New(rand.NewPCG(1, 7)))
	if Fit(d.row(), f, spec()) == nil {
		t.Error("not seen")
	}
	if Fit(d.row(), f, ruler.Spec{Graduation: 1e-3}) != nil {
		t.Error("seen without knowing where the front end is")
	}
}

// FuzzFit: no face or row makes it panic or hang, and what it finds is finite.
func FuzzFit(f *testing.F) {
	f.Add(uint64(1), 3.4, 12.0, 0.0, 0)
	f.Add(uint64(2), 0.1, 0.3, 1e9, 1)
	f.Add(uint64(3), math.NaN(), 1e300, math.Inf(1), 2)
	f.Add(uint64(4), 5.0, 8.0, -1e-3, 3)
	f.Fuzz(func(t *testing.T, seed uint64, moved, pitch, odd float64, what int) {
		rnd := rand.New(rand.NewPCG(seed, 7))
		d := drawn{pitch: 12, moved: 3.4, gain: 1, noise: 0.03, flashes: 2}
		row, face := d.row(), d.face(rnd)
		row.Pitch = pitch
		for i := range row.Steps {
			row.Steps[i].T = rnd.NormFloat64() * moved * 100
		}
		for range 20 {
			face.Light[rnd.IntN(27)][rnd.IntN(600)] = odd
			row.Marks[rnd.IntN(lines)].T += odd
		}
		switch what {
		case 1:
			face.Light = face.Light[:rnd.IntN(3)]
		case 2:
			face.Light[3] = face.Light[3][:rnd.IntN(600)]
		case 3:
			face.Step, face.T0 = odd, moved
		}
		if got := Fit(row, face, spec()); got != nil && (math.IsNaN(got.Moved+got.MovedU) || math.IsInf(got.Moved, 0)) {
			t.Errorf("%+v", got)
		}
	})
}
