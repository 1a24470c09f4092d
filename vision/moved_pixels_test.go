package vision

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"sort"
	"testing"

	"leadmark/fit/stat"
	"leadmark/testdata"
	"leadmark/vision/frame"
	"leadmark/vision/pixel"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
)

// TestMovedPixels moves the pixels of photographs of real rulers by known sub-pixel distances over
// a plain field: real texture and print, known truth. What the ruler reads at a place fixed in the
// picture, and where its ends lie, must follow.
func TestMovedPixels(t *testing.T) {
	var errMM, errFront, z []float64
	for _, p := range photographsToMove(t) {
		still := p.moved(0, 0)
		base := reading.Interpret(sight(native.Library{}, whole(still), ruler.Hint{}), ruler.Spec{Graduation: 1e-3})
		if base.Status != ruler.StatusRead || base.Front == nil {
			t.Fatalf("%s over a plain field: %s", p.file, base.Reason)
		}
		for i, dx := range []float64{0.25, 3.5, -7.75, 21.13} {
			dy := 0.37 * float64(i)
			r := reading.Interpret(sight(native.Library{}, whole(p.moved(dx, dy)), ruler.Hint{}),
				ruler.Spec{Graduation: 1e-3})
			if r.Status != ruler.StatusRead || r.Front == nil {
				t.Errorf("%s moved by %.2f px: %s", p.file, dx, r.Reason)
				continue
			}
			// A line across the ruler at its middle, and the same line as the moved ruler has it.
			mid := base.Graduations.At(base.Graduations.Len() / 2).At
			line := ruler.Line{A: mid, B: mid.Add(base.Scale.MarkDir(0))}
			back := ruler.Line{A: line.A.Sub(ruler.Point{X: dx, Y: dy}), B: line.B.Sub(ruler.Point{X: dx, Y: dy})}
			want, u0, _, _ := base.Scale.At(back)
			got, u1, _, _ := r.Scale.At(line)
			off := 1e3 * (got - want)
			off -= math.Round(off) // lines count from the first one seen, which may be another
			errMM, z = append(errMM, math.Abs(off)), append(z, math.Abs(off)/(1e3*math.Hypot(u0, u1)))
			moved := base.Front.At.Add(ruler.Point{X: dx, Y: dy})
			errFront = append(errFront, math.Abs(r.Front.At.Sub(moved).Dot(r.Scale.Dir)))
		}
	}
	a, f, s := middleOf(errMM), middleOf(errFront), 1.4826*middleOf(z)
	t.Logf("%d frames: median error %.4f mm, %.3f px at the front end; error/u %.2f", len(errMM), a, f, s)
	if !(a <= 0.04 && f <= 0.3 && s >= 0.3 && s <= 1.4) {
		t.Errorf("want at most 0.04 mm and 0.3 px, and 0.3 to 1.4")
	}
}

func middleOf(v []float64) float64 {
	s := append([]float64(nil), v...)
	sort.Float64s(s)
	return s[len(s)/2]
}

// cutOut is the part of a photograph that shows the ruler.
type cutOut struct {
	file           string
	g              *pixel.Gray
	x0, y0, x1, y1 int
	field          uint8
}

func photographsToMove(t *testing.T) []cutOut {
	t.Helper()
	var tf struct {
		Images []struct {
			File  string
			Strip [][2]float64 `json:"strip_polygon_approx"`
		}
	}
	dir := testdata.Photographs(t, "rulers")
	data, err := os.ReadFile(filepath.Join(dir, "truth.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &tf); err != nil {
		t.Fatal(err)
	}
	var out []cutOut
	for _, im := range tf.Images {
		if im.File != "fish_ruler_dark.jpg" && im.File != "fish_ruler_normal.jpg" {
			continue
		}
		f, refused := frame.Open(filepath.Join(dir, im.File))
		if refused != nil {
			t.Fatal(refused)
		}
		g, err := grayOfFile(f)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, newCutOut(im.File, g, im.Strip))
	}
	return out
}

func newCutOut(file string, g *pixel.Gray, strip [][2]float64) cutOut {
	const margin = 14
	c := cutOut{file: file, g: g, x0: g.W, y0: g.H}
	for _, p := range strip {
		c.x0, c.x1 = min(c.x0, int(p[0])-margin), max(c.x1, int(p[0])+margin)
		c.y0, c.y1 = min(c.y0, int(p[1])-margin), max(c.y1, int(p[1])+margin)
	}
	c.x0, c.y0, c.x1, c.y1 = max(2, c.x0), max(2, c.y0), min(g.W-3, c.x1), min(g.H-3, c.y1)
	var rim []float64
	for x := c.x0; x <= c.x1; x++ {
		rim = append(rim, float64(g.Pix[c.y0*g.W+x]), float64(g.Pix[c.y1*g.W+x]))
	}
	c.field = uint8(stat.Median(rim))
	return c
}

// moved draws the cut-out moved by (dx, dy) over a field of one tone, its rim faded into the field
// over six pixels. Places between pixels are interpolated by Keys' cubic (1981).
func (c cutOut) moved(dx, dy float64) *pixel.Gray {
	const pad, fade = 60, 6.0
	out := pixel.NewGray(c.x1-c.x0+2*pad, c.y1-c.y0+2*pad)
	for y := range out.H {
		for x := range out.W {
			sx, sy := float64(x-pad)-dx, float64(y-pad)-dy // in the cut-out
			in := min(min(sx, float64(c.x1-c.x0)-sx), min(sy, float64(c.y1-c.y0)-sy))
			a := max(0, min(1, in/fade))
			v := float64(c.field)
			if a > 0 {
				v += a * (cubicAt(c.g, float64(c.x0)+sx, float64(c.y0)+sy) - v)
			}
			out.Pix[y*out.W+x] = uint8(max(0, min(255, math.Round(v))))
		}
	}
	return out
}

func cubicAt(g *pixel.Gray, x, y float64) float64 {
	x0, y0 := math.Floor(x), math.Floor(y)
	wx, wy := keys(x-x0), keys(y-y0)
	sum := 0.0
	for j, b := range wy {
		for i, a := range wx {
			px, py := min(g.W-1, max(0, int(x0)+i-1)), min(g.H-1, max(0, int(y0)+j-1))
			sum += a * b * float64(g.Pix[py*g.W+px])
		}
	}
	return sum
}

func keys(x float64) [4]float64 {
	return [4]float64{((-0.5*x+1)*x - 0.5) * x, (1.5*x-2.5)*x*x + 1, ((-1.5*x+2)*x + 0.5) * x, (0.5*x - 0.5) * x * x}
}
