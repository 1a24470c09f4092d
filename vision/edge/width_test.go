package edge

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"math/cmplx"
	"os"
	"path/filepath"
	"testing"

	"leadmark/vision/animal"
	"leadmark/vision/frame"
	"leadmark/vision/pixel"
	"leadmark/vision/pixel/native"
)

// slant turns the drawn square, as the slanted-edge method of ISO 12233 turns its edges (about 5
// degrees, from memory).
const slant = 5 * math.Pi / 180

// blurredStep is a step blurred by a Gaussian and then by an exponential of decay length tail towards
// greater x, or smaller where that is negative: the distribution of their sum (the exponentially
// modified Gaussian, E. Grushka, Anal. Chem. 44 (1972) 1733), as the textbooks have it and not as
// the program works it out.
func blurredStep(x, sigma, tail float64) float64 {
	normal := func(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
	switch {
	case tail == 0:
		return normal(x / sigma)
	case tail < 0:
		return 1 - blurredStep(-x, sigma, -tail)
	}
	up := sigma*sigma/(2*tail*tail) - x/tail
	if up > 500 { // so far before the edge that nothing is lit
		return 0
	}
	return normal(x/sigma) - math.Exp(up)*normal(x/sigma-sigma/tail)
}

// slantedSquare is a square on a plain ground, blurred by a Gaussian and blurred along its first
// side: analytic, since both factors are known distributions. It is 160 px wide, in 320 x 320; lit
// and ground are light by channel.
func slantedSquare(sigma, tail float64, lit, ground [3]float64) (img *image.RGBA, outline []animal.Point,
	along animal.Point) {
	const size, half = 320, 80.0
	sin, cos := math.Sincos(slant)
	along = animal.Point{X: cos, Y: sin}
	img = image.NewRGBA(image.Rect(0, 0, size, size))
	step := func(x, tail float64) float64 { return blurredStep(x, sigma, tail) }
	for y := range size {
		for x := range size {
			dx, dy := float64(x)-size/2, float64(y)-size/2
			u, v := cos*dx+sin*dy, cos*dy-sin*dx
			a := (step(u+half, tail) - step(u-half, tail)) * (step(v+half, 0) - step(v-half, 0))
			var c [3]uint8
			for k := range c {
				c[k] = uint8(math.Round(255 * curved(ground[k]+a*(lit[k]-ground[k]))))
			}
			img.Set(x, y, color.RGBA{c[0], c[1], c[2], 255})
		}
	}
	at := func(u, v float64) {
		u += tail * math.Ln2 // half of it is covered there
		outline = append(outline, animal.Point{X: size/2 + cos*u - sin*v, Y: size/2 + sin*u + cos*v})
	}
	for t := -half; t < half; t++ {
		at(t, -half)
	}
	for t := -half; t < half; t++ {
		at(half, t)
	}
	for t := half; t > -half; t-- {
		at(t, half)
	}
	for t := half; t > -half; t-- {
		at(-half, t)
	}
	return img, outline, along
}

func patchOf(pic *pixel.Colour, ground [3]float64) *Patch {
	back := pixel.NewColour(pic.W, pic.H)
	for i := range back.Pix {
		back.Pix[i] = pixel.Tone(ground[i%3])
	}
	return &Patch{pic: pic, back: back, k: 1}
}

var (
	amber = [3]float64{0.5, 0.27, 0.04}
	blue  = [3]float64{0.02, 0.06, 0.35}
)

// Analytic edges of known blur and motion, whichever way it runs: the Gaussian to 4 %, the way
// moved to 6 %, none where there is none.
func TestEdgesOfKnownBlur(t *testing.T) {
	for _, sigma := range []float64{0.7, 1, 2, 4} {
		for _, ratio := range []float64{0, 1, -1, 2.5} {
			t.Run(fmt.Sprint(sigma, ratio), func(t *testing.T) {
				tail := sigma * ratio
				img, outline, along := slantedSquare(sigma, tail, amber, blue)
				e := edgesOf(patchOf(pixel.ColourOf(img), blue), placesOn(outline), animal.Point{X: 1})
				if e == nil {
					t.Fatal("not measured")
				}
				if math.Abs(e.Blur-sigma) > 0.04*sigma {
					t.Errorf("blur %.3f px, drawn %.3f", e.Blur, sigma)
				}
				want := math.Ln10 * math.Abs(tail)
				if math.Abs(e.Motion-want) > 0.06*want {
					t.Errorf("motion %.3f px, drawn %.3f", e.Motion, want)
				}
				if turn := math.Abs(e.Direction.X*along.Y - e.Direction.Y*along.X); want > 0 && turn > 0.08 {
					t.Errorf("direction %v, drawn %v", e.Direction, along)
				}
			})
		}
	}
}

// A JPEG that stores the colours of four pixels as one (4:2:0) shows no motion for that.
func TestSharedColoursAreNoMotion(t *testing.T) {
	img, outline, _ := slantedSquare(0.8, 0, amber, blue)
	data, err := native.Library{}.EncodeJPEG(img, 95)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "a.jpg")
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
	f, refused := frame.Open(path)
	if refused != nil {
		t.Fatal(refused)
	}
	p, err := (&pixel.Decoder{Library: native.Library{}}).Open(f)
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	shared := p.Shared()
	pic, err := p.Part(img.Bounds(), true)
	if err != nil || shared != image.Pt(2, 2) {
		t.Fatalf("colours shared by %v pixels: %v", shared, err)
	}
	q := patchOf(pic, blue)
	q.blur = sharedBlur(shared)
	e := edgesOf(q, placesOn(outline), animal.Point{X: 1})
	if e == nil || e.Motion != 0 || math.Abs(e.Blur-0.8) > 0.15 {
		t.Errorf("measured %+v, drawn 0.8 px without motion", e)
	}
}

// slantedEdgeMethod is the frequency at which the contrast of an edge has fallen to half, cycles a
// pixel, by the slanted-edge method of ISO 12233 (from memory): pixels projected along the edge
// onto its normal in bins of a quarter pixel, differences, a Hamming window, Fourier transform, and
// the differences' own response taken out. The edge crosses (cx, cy), its normal is n.
func slantedEdgeMethod(light func(x, y int) float64, cx, cy float64, n animal.Point, reach float64) float64 {
	const fine = 4
	m := int(2 * reach * fine)
	sum, count := make([]float64, m), make([]float64, m)
	for y := int(cy - 25); y <= int(cy+25); y++ {
		for x := int(cx - reach - 5); x <= int(cx+reach+5); x++ {
			s := n.X*(float64(x)-cx) + n.Y*(float64(y)-cy)
			if k := int(math.Floor((s + reach) * fine)); k >= 0 && k < m {
				sum[k], count[k] = sum[k]+light(x, y), count[k]+1
			}
		}
	}
	spread := make([]float64, 0, m)
	for k := 1; k < m-1; k++ {
		d := sum[k+1]/count[k+1] - sum[k-1]/count[k-1]
		w := 0.54 - 0.46*math.Cos(2*math.Pi*float64(k)/float64(m-1))
		spread = append(spread, w*d)
	}
	at := func(f float64) float64 {
		var z complex128
		for k, d := range spread {
			z += complex(d, 0) * cmplx.Exp(complex(0, -2*math.Pi*f*float64(k)/fine))
		}
		own := 1.0
		if x := 2 * math.Pi * f / fine; x > 0 {
			own = math.Sin(x) / x
		}
		return cmplx.Abs(z) / own
	}
	lo, hi := 0.0, 0.5
	for range 40 {
		if mid := (lo + hi) / 2; at(mid) > at(0)/2 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// The Gaussian found agrees to 5 % with that by the slanted-edge method: contrast is half at
// sqrt(ln 2 / 2) / (pi sigma).
func TestAgainstTheSlantedEdgeMethod(t *testing.T) {
	for _, sigma := range []float64{0.8, 1.5, 3} {
		img, outline, along := slantedSquare(sigma, 0, amber, blue)
		p := patchOf(pixel.ColourOf(img), blue)
		e := edgesOf(p, placesOn(outline), animal.Point{X: 1})
		red := func(x, y int) float64 { return p.Light(x, y)[0] }
		half := slantedEdgeMethod(red, 160+80*along.X, 160+80*along.Y, along, 8*sigma+6)
		want := math.Sqrt(math.Ln2/2) / (math.Pi * half)
		if e == nil || math.Abs(e.Blur-want) > 0.05*want {
			t.Errorf("%+v; the slanted-edge method gives a Gaussian of %.3f px, drawn %.3f", e, want, sigma)
		}
	}
}

// The derivatives of the blurred step against differences.
func TestSmearedStepsDerivatives(t *testing.T) {
	const h = 1e-4
	for _, tail := range []float64{0.05, -0.05, 0.3, 1, -2.5, 6} {
		for x := -4.0; x < 9; x += 0.7 {
			s := blurredAt(x, 1.3, tail)
			for _, c := range []struct {
				name     string
				got, dif float64
			}{
				{"place", s.density, (blurredAt(x+h, 1.3, tail).step - blurredAt(x-h, 1.3, tail).step) / (2 * h)},
				{"Gaussian", s.bySigma, (blurredAt(x, 1.3+h, tail).step - blurredAt(x, 1.3-h, tail).step) / (2 * h)},
				{"tail", s.byTail, (blurredAt(x, 1.3, tail+h).step - blurredAt(x, 1.3, tail-h).step) / (2 * h)},
			} {
				if math.Abs(c.got-c.dif) > 2e-3 { // the table of the normal distribution is right to 1e-5
					t.Errorf("tail %g, x %.1f: derivative by %s is %.5f, differences give %.5f", tail, x, c.name,
						c.got, c.dif)
				}
			}
		}
	}
}
