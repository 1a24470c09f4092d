package photo

import (
	"image"
	"math"

	"leadmark/vision/ruler"
	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/paint"
)

// painter draws a ruler, and what holds it, into a layer.
type painter struct {
	cam   Camera
	ruler *placed
	light Flash
	ref   Vec // where the flash's exposure holds
	grips []Grip
	seed  uint32
}

// outline returns the corners of everything the painter draws.
func (p *painter) outline() []ruler.Point {
	l := p.ruler.look
	u0, u1, w := l.Front(), l.Front()+l.Length, l.Width/2
	if len(p.grips) > 0 {
		w += gripSpread
		u1 += gripSpread
	}
	var ps []ruler.Point
	for _, at := range [][2]float64{{u0, -w}, {u0, w}, {u1, -w}, {u1, w}} {
		q := p.ruler.point(at[0], at[1])
		if q.Z > 0.01 {
			ps = append(ps, p.cam.Project(q))
		}
	}
	return ps
}

// paint draws the ruler into the pixels of r.
func (p *painter) paint(r image.Rectangle) *paint.Layer {
	out := paint.NewLayer(r)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := out.Row(y)
		for x := r.Min.X; x < r.Max.X; x++ {
			p.pixel(float64(x), float64(y), row[4*(x-r.Min.X):][:4])
		}
	}
	return out
}

// span returns how many metres in direction d one pixel spans at a place: the picture's shift per
// metre is focal length times (d_xy z - d_z p_xy) / z^2.
func (p *painter) span(d, at Vec) float64 {
	x, y := d.X*at.Z-d.Z*at.X, d.Y*at.Z-d.Z*at.Y
	return at.Z * at.Z / (p.cam.FocalPX * math.Sqrt(x*x+y*y))
}

// Where the face is not plain a pixel takes three samples each way, half a pixel apart, of weights
// 1, 2 and 1, and each sample the mean over the area of a whole pixel. Together they weigh the
// neighbourhood like a bell: a pixel's plain square would let through enough fine detail to shift
// edges by up to 0.03 px with their place on the grid. What the samples' own spread adds to the
// variance of the blur is taken off the lens's.
var sampleWeights = [3]float64{0.25, 0.5, 0.25}

const sampleVariance = 0.125 // px^2

func (p *painter) pixel(x, y float64, out []float32) {
	rx, ry := p.cam.ray(x, y)
	u, v, depth := p.ruler.face(rx, ry)
	at := p.ruler.point(u, v)
	fu, fv := p.span(p.ruler.A, at), p.span(p.ruler.B, at)
	reach := 2 * max(fu, fv)
	d := p.ruler.look.Distance(u, v)
	if d > reach && !p.gripped(u, v, reach) || depth <= 0 {
		return
	}
	sh := p.shadeAt(at, u, v)
	if p.plain(u, v, fu, fv, reach) {
		p.sample(u, v, fu, fv, 1, &sh, out)
		return
	}
	px := 0.5 / p.cam.FocalPX
	for j, wy := range sampleWeights {
		for i, wx := range sampleWeights {
			// Within a pixel the distortion is a shift: its change from side to side is below 0.001 px.
			su, sv, _ := p.ruler.face(rx+float64(i-1)*px, ry+float64(j-1)*px)
			p.sample(su, sv, fu, fv, wx*wy, &sh, out)
		}
	}
}

// plain reports whether nothing changes within a pixel around (u, v) but the grain.
func (p *painter) plain(u, v, fu, fv, reach float64) bool {
	l := p.ruler.look
	if _, d := l.Body(u, v, reach); d > -reach || p.gripped(u, v, reach) {
		return false
	}
	if b := l.Band; b != nil && (math.Abs(u-b.At) < reach || math.Abs(u-b.At-b.Width) < reach) {
		return false
	}
	_, busy := l.Print(u, v, fu, fv)
	return !busy
}

// shade is the light on the ruler around one pixel.
type shade struct{ diffuse, glare float64 }

func (p *painter) shadeAt(at Vec, u, v float64) shade {
	l := p.ruler.look
	n := p.ruler.N
	if l.Grain == looks.Brushed { // the brush marks tilt the face a little
		n = n.Add(p.ruler.B.Mul(0.05 * paint.Noise(u/(25*mm), v/(0.12*mm), p.seed+9))).Unit()
	}
	s := shade{diffuse: p.light.Irradiance(at, p.ruler.N, p.ref)}
	if l.Gloss > 0 {
		s.glare = l.Gloss * p.light.glare(at, n, 60)
	}
	return s
}

// sample adds one sample of weight w.
func (p *painter) sample(u, v, fu, fv, w float64, sh *shade, out []float32) {
	l := p.ruler.look
	c, a := paint.RGB{}, 0.0
	if cover, d := l.Body(u, v, max(fu, fv)); cover > 0 {
		ink, _ := l.Print(u, v, fu, fv)
		col, opacity := l.Colour(u, v, d, ink, p.seed)
		c = col.Mul(sh.diffuse * opacity).Add(paint.Grey(sh.glare * (1 - 0.7*ink))).Mul(cover)
		a = opacity * cover
	}
	for i := range p.grips {
		gc, ga := p.grips[i].at(u, v, fu, l.Width/2, p.seed)
		if ga > 0 {
			c = c.Mul(1 - ga).Add(gc.Mul(sh.diffuse * ga))
			a += (1 - a) * ga
		}
	}
	out[0] += float32(w * c.R)
	out[1] += float32(w * c.G)
	out[2] += float32(w * c.B)
	out[3] += float32(w * a)
}

func (p *painter) gripped(u, v, reach float64) bool {
	for i := range p.grips {
		if p.grips[i].near(u, v, reach, p.ruler.look.Width/2) {
			return true
		}
	}
	return false
}
