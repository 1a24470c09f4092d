package animals

import "math"

// layer is a part of the picture: premultiplied linear light, opacity, and how much of a pixel is
// covered, by what is half transparent too.
type layer struct {
	x0, y0, w, h int
	pix          []float32 // planes a pixel
}

// planes of a layer.
const (
	opaque  = 3
	covered = 4
	planes  = 5
)

func newLayer(x0, y0, w, h int) *layer { return &layer{x0, y0, w, h, make([]float32, planes*w*h)} }

// drawn draws an animal sharp, 3 x 3 samples a pixel.
func drawn(a Animal, pad int) *layer {
	sin, cos := math.Sincos(a.Heading)
	ll := a.Length
	x0, y0 := int(a.Nose[0]-1.3*ll)-pad, int(a.Nose[1]-1.3*ll)-pad
	n := int(2.6*ll) + 2*pad
	l := newLayer(x0, y0, n, n)
	all := parts(a.Kind)
	for y := range n {
		for x := range n {
			var sum [planes]float64
			for s := range 9 {
				dx := float64(x0+x) + float64(s%3-1)/3 - a.Nose[0]
				dy := float64(y0+y) + float64(s/3-1)/3 - a.Nose[1]
				u, v := (cos*dx-sin*dy)/ll, (-sin*dx-cos*dy)/ll
				if u < -1.1 || u > 0.2 || v < -0.5 || v > 0.5 {
					continue
				}
				c, alpha := at(all, u, v, a.Seed)
				for j := range c {
					sum[j] += c[j] / 9
				}
				sum[opaque] += alpha / 9
				if alpha > 0 {
					sum[covered] += 1.0 / 9
				}
			}
			for j, s := range sum {
				l.pix[planes*(y*n+x)+j] = float32(s)
			}
		}
	}
	return l
}

// motionBlur moves the layer along a direction while the flash falls off exponentially with the decay
// length tail, px: the instant by which half the light is given off is where the animal stands.
func (l *layer) motionBlur(dx, dy, tail float64) *layer {
	if tail <= 0 {
		return l
	}
	out := newLayer(l.x0, l.y0, l.w, l.h)
	const step = 0.5
	n := int(7 * tail / step)
	sum := 0.0
	for k := range n {
		sum += math.Exp(-(float64(k) + 0.5) * step / tail)
	}
	for k := range n {
		t := (float64(k) + 0.5) * step
		out.add(l, (t-math.Ln2*tail)*dx, (t-math.Ln2*tail)*dy, float32(math.Exp(-t/tail)/sum))
	}
	return out
}

// add adds another layer of the same size, moved by a fraction of pixels.
func (l *layer) add(m *layer, dx, dy float64, weight float32) {
	fx, fy := math.Floor(dx), math.Floor(dy)
	ix, iy := int(fx), int(fy)
	ax, ay := float32(dx-fx), float32(dy-fy)
	for c, k := range [4]float32{(1 - ax) * (1 - ay), ax * (1 - ay), (1 - ax) * ay, ax * ay} {
		ox, oy := ix+c%2, iy+c/2
		for y := max(0, oy); y < min(l.h, l.h+oy); y++ {
			lo, hi := max(0, ox), min(l.w, l.w+ox)
			if hi <= lo {
				continue
			}
			to, from := l.pix[planes*(y*l.w+lo):planes*(y*l.w+hi)], m.pix[planes*((y-oy)*l.w+lo-ox):]
			for i := range to {
				to[i] += weight * k * from[i]
			}
		}
	}
}

// soften blurs by a Gaussian of standard deviation sigma, px.
func (l *layer) soften(sigma float64) {
	if sigma <= 0 {
		return
	}
	r := int(3.5*sigma) + 1
	kernel := make([]float32, 2*r+1)
	var sum float32
	for i := range kernel {
		kernel[i] = float32(math.Exp(-float64((i-r)*(i-r)) / (2 * sigma * sigma)))
		sum += kernel[i]
	}
	for i := range kernel {
		kernel[i] /= sum
	}
	l.pass(kernel, planes, planes*l.w, l.w, l.h)
	l.pass(kernel, planes*l.w, planes, l.h, l.w)
}

// pass convolves along one axis: n steps of stride, for each of m lines that are line apart.
func (l *layer) pass(kernel []float32, stride, line, n, m int) {
	r := len(kernel) / 2
	row := make([]float32, planes*n)
	for k := range m {
		at := l.pix[k*line:]
		for i := range n {
			copy(row[planes*i:planes*(i+1)], at[i*stride:])
		}
		for i := range n {
			var s [planes]float32
			for j := max(-r, -i); j <= min(r, n-1-i); j++ {
				w := kernel[j+r]
				q := row[planes*(i+j):][:planes]
				for c := range s {
					s[c] += w * q[c]
				}
			}
			copy(at[i*stride:i*stride+planes], s[:])
		}
	}
}

// shadow is the layer's opacity blurred by about a Gaussian of standard deviation sigma: three box
// filters.
func (l *layer) shadow(sigma float64) []float32 {
	m := make([]float32, l.w*l.h)
	for i := range m {
		m[i] = l.pix[planes*i+opaque]
	}
	r := int(math.Sqrt(4*sigma*sigma+1)/2 + 0.5)
	for range 3 {
		box(m, l.w, l.h, 1, l.w, r)
		box(m, l.h, l.w, l.w, 1, r)
	}
	return m
}

// box replaces each of n values of stride, in each of k lines, by the mean of those up to r away.
func box(m []float32, n, k, stride, line, r int) {
	sum := make([]float32, n+1)
	for j := range k {
		for i := range n {
			sum[i+1] = sum[i] + m[j*line+i*stride]
		}
		for i := range n {
			m[j*line+i*stride] = (sum[min(n, i+r+1)] - sum[max(0, i-r)]) / float32(2*r+1)
		}
	}
}
