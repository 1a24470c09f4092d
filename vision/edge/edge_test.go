package edge

import (
	"math"
	"math/rand/v2"
	"testing"

	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// noisyEdge draws an edge of known place, blur and noise: dark left of at + lean y, bright right of
// it, which printed says where a line is printed right along it. The code values are sRGB's,
// rounded.
func noisyEdge(rnd *rand.Rand, at, lean, sigma, noise float64, printed func(y int) bool) *pixel.Gray {
	const w, h, dark, bright = 120, 160, 0.05, 0.5
	g := &pixel.Gray{W: w, H: h, Pix: make([]uint8, w*h)}
	for y := range h {
		for x := range w {
			d := float64(x) - at - lean*float64(y)
			light := dark + (bright-dark)*0.5*math.Erfc(-d/sigma/math.Sqrt2)
			if printed(y) {
				light -= 0.35 * (0.5*math.Erfc(-d/sigma/math.Sqrt2) - 0.5*math.Erfc(-(d-2)/sigma/math.Sqrt2))
			}
			g.Pix[y*w+x] = uint8(math.Round(255 * min(1, max(0, curved(light)+noise/255*rnd.NormFloat64()))))
		}
	}
	return g
}

// curved is the sRGB curve (IEC 61966-2-1).
func curved(x float64) float64 {
	if x <= 0.0031308 {
		return 12.92 * x
	}
	return 1.055*math.Pow(x, 1/2.4) - 0.055
}

// edgeBound is the Cramer-Rao bound of the place of noisyEdge's edge over n rows, blur and levels
// known (S. M. Kay, Fundamentals of Statistical Signal Processing: Estimation Theory, 1993, section
// 3.5): the reciprocal root of the information, the sum over the pixels of slope squared over the
// noise's variance.
func edgeBound(sigma, noise float64, n int) float64 {
	const dark, bright, h = 0.05, 0.5, 0.01
	info := 0.0
	for x := -8 * sigma; x < 8*sigma; x += h {
		code := func(x float64) float64 {
			return 255 * curved(dark+(bright-dark)*0.5*math.Erfc(-x/sigma/math.Sqrt2))
		}
		slope := (code(x+h) - code(x-h)) / (2 * h)
		info += h * slope * slope / (noise*noise + 1.0/12)
	}
	return 1 / math.Sqrt(info*float64(n))
}

func TestEdgeComesNearTheCramerRaoBound(t *testing.T) {
	const draws = 120
	rnd := rand.New(rand.NewPCG(31, 7))
	for _, c := range []struct{ sigma, noise float64 }{{0.8, 2}, {1.5, 4}, {2.5, 8}} {
		square, said := 0.0, 0.0
		for range draws {
			at, lean := 56+4*rnd.Float64(), 0.06*(rnd.Float64()-0.5)
			g := noisyEdge(rnd, at, lean, c.sigma, c.noise, func(int) bool { return false })
			e, ok := placeEdge(g, ruler.Line{A: ruler.Point{X: at + 0.6, Y: 10},
				B: ruler.Point{X: at + lean*150 - 0.4, Y: 150}}, 1.3*c.sigma, 1, AsWhole)
			if !ok {
				t.Fatalf("blur %g: not placed", c.sigma)
			}
			mid := ruler.Point{X: at + lean*80, Y: 80}
			d := e.Line.Distance(mid)
			square, said = square+d*d, said+e.U*e.U
		}
		rms, bound := math.Sqrt(square/draws), edgeBound(c.sigma, c.noise, 140)
		t.Logf("blur %.1f px, noise %.0f codes: %.4f px r.m.s., stated %.4f, bound %.4f, ratio %.2f", c.sigma,
			c.noise, rms, math.Sqrt(said/draws), bound, rms/bound)
		if !(rms <= 2*bound) {
			t.Errorf("blur %.1f px: error %.4f px is more than twice the bound of %.4f", c.sigma, rms, bound)
		}
		// The floor of what is stated is for compression, which is not drawn here.
		if z := rms / math.Sqrt(said/draws-edgeFloor*edgeFloor); !(z >= 0.7 && z <= 1.4) {
			t.Errorf("blur %.1f px: error over stated uncertainty %.2f", c.sigma, z)
		}
	}
}

// A line printed right along a third of an edge moves it there; the rest must count.
func TestPrintAlongAThirdOfAnEdge(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 12))
	for range 20 {
		at := 28 + 4*rnd.Float64()
		g := noisyEdge(rnd, at, 0, 1.2, 3, func(y int) bool { return y < 58 })
		e, ok := placeEdge(g, ruler.Line{A: ruler.Point{X: at + 0.5, Y: 10}, B: ruler.Point{X: at + 0.5, Y: 150}},
			1.2, 3, AsWhole)
		if !ok {
			t.Fatal("not placed")
		}
		for _, y := range []float64{60, 80, 140} {
			if d := e.Line.Distance(ruler.Point{X: at, Y: y}); !(math.Abs(d) <= 0.1) {
				t.Errorf("at row %.0f the edge is placed %.3f px off", y, d)
			}
		}
	}
}

func TestRepeatedMedianStandsHalfOfThePoints(t *testing.T) {
	var x, y []float64
	for i := range 20 {
		x, y = append(x, float64(i)), append(y, 3+0.5*float64(i))
		if i < 9 {
			y[i] += 7
		}
	}
	if a, b := repeatedMedian(x, y); math.Abs(a-3) > 1e-9 || math.Abs(b-0.5) > 1e-9 {
		t.Errorf("%v + %v x, want 3 + 0.5 x", a, b)
	}
}
