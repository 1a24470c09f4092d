package paint

import (
	"image"
	"math"
	"sort"

	"leadmark/vision/ruler"
)

// Gaussian blurs a layer in place with standard deviation sigma pixels.
func (l *Layer) Gaussian(sigma float64) {
	if sigma < 0.05 {
		return
	}
	if sigma > 6 { // three boxes are near enough to a Gaussian of this size, and quick
		l.boxes(sigma)
		return
	}
	k := gaussKernel(sigma)
	w, h := l.Rect.Dx(), l.Rect.Dy()
	buf := make([]float32, 4*max(w, h))
	for y := range h {
		convolve(l.pix[4*w*y:4*w*(y+1)], buf, k)
	}
	l.columns(k)
}

// gaussKernel samples the Gaussian and returns weights from the middle outwards.
func gaussKernel(sigma float64) []float32 {
	k := make([]float32, int(math.Ceil(3.5*sigma))+2)
	sum := 0.0
	for i := range k {
		g := math.Exp(-float64(i*i) / (2 * sigma * sigma))
		k[i] = float32(g)
		sum += g
		if i > 0 {
			sum += g
		}
	}
	for i := range k {
		k[i] /= float32(sum)
	}
	return k
}

func convolve(p, buf []float32, k []float32) {
	copy(buf, p)
	n := len(p) / 4
	for x := range n {
		a0, a1, a2, a3 := k[0]*buf[4*x], k[0]*buf[4*x+1], k[0]*buf[4*x+2], k[0]*buf[4*x+3]
		for i := 1; i < len(k); i++ {
			lo, hi := 4*max(0, x-i), 4*min(n-1, x+i)
			b, c := buf[lo:lo+4:lo+4], buf[hi:hi+4:hi+4]
			a0 += k[i] * (b[0] + c[0])
			a1 += k[i] * (b[1] + c[1])
			a2 += k[i] * (b[2] + c[2])
			a3 += k[i] * (b[3] + c[3])
		}
		p[4*x], p[4*x+1], p[4*x+2], p[4*x+3] = a0, a1, a2, a3
	}
}

// columns convolves down the columns, row by row so that memory is read in order.
func (l *Layer) columns(k []float32) {
	n, h := 4*l.Rect.Dx(), l.Rect.Dy()
	src := l.pix
	dst := make([]float32, len(src))
	for y := range h {
		out := dst[n*y : n*(y+1)]
		for i := -(len(k) - 1); i < len(k); i++ {
			w := k[max(i, -i)]
			in := src[n*min(h-1, max(0, y+i)):][:n]
			for j := range out {
				out[j] += w * in[j]
			}
		}
	}
	l.pix = dst
}

func (l *Layer) boxes(sigma float64) {
	r := int(math.Round((math.Sqrt(4*sigma*sigma+1) - 1) / 2))
	for range 3 {
		l.box(r, true)
		l.box(r, false)
	}
}

// box takes the running mean over 2r+1 pixels along rows or columns; what lies outside is clear.
func (l *Layer) box(r int, rows bool) {
	w, h := l.Rect.Dx(), l.Rect.Dy()
	n, count, step, line := w, h, 4, 4*w
	if !rows {
		n, count, step, line = h, w, 4*w, 4
	}
	buf := make([]float32, n+2*r+1)
	k := 1 / float64(2*r+1)
	for i := range count {
		for c := range 4 {
			base := i*line + c
			for j := range n {
				buf[j+r] = l.pix[base+j*step]
			}
			sum := 0.0
			for j := range 2 * r {
				sum += float64(buf[j])
			}
			for j := range n {
				sum += float64(buf[j+2*r])
				l.pix[base+j*step] = float32(sum * k)
				sum -= float64(buf[j])
			}
		}
	}
}

// Tap is one weight of a sparse kernel.
type Tap struct {
	dx, dy int
	w      float32
}

// cubic returns the weights at -1, 0, 1 and 2 of Keys' interpolation kernel (1981) for a place x in
// [0, 1): they keep the mean and the variance of what is shared out, so that no blur is added.
func cubic(x float64) [4]float64 {
	return [4]float64{((-0.5*x+1)*x - 0.5) * x, (1.5*x-2.5)*x*x + 1, ((-1.5*x+2)*x + 0.5) * x, (0.5*x - 0.5) * x * x}
}

// Splat shares points of equal weight among the pixels around each.
func Splat(ps []ruler.Point) []Tap {
	sum := map[image.Point]float64{}
	for _, p := range ps {
		fx, fy := math.Floor(p.X), math.Floor(p.Y)
		wx, wy := cubic(p.X-fx), cubic(p.Y-fy)
		for j, b := range wy {
			for i, a := range wx {
				sum[image.Pt(int(fx)+i-1, int(fy)+j-1)] += a * b / float64(len(ps))
			}
		}
	}
	var ts []Tap
	for p, w := range sum {
		if math.Abs(w) > 1e-5 {
			ts = append(ts, Tap{p.X, p.Y, float32(w)})
		}
	}
	sort.Slice(ts, func(i, j int) bool {
		return ts[i].dy < ts[j].dy || ts[i].dy == ts[j].dy && ts[i].dx < ts[j].dx
	})
	return ts
}

// Convolve convolves the layer with a sparse kernel: each tap lays down the layer moved by (dx, dy).
func (l *Layer) Convolve(ts []Tap) {
	w, h := l.Rect.Dx(), l.Rect.Dy()
	dst := make([]float32, len(l.pix))
	for y := range h {
		out := dst[4*w*y : 4*w*(y+1)]
		for _, t := range ts {
			sy := y - t.dy
			if sy < 0 || sy >= h {
				continue
			}
			in := l.pix[4*w*sy : 4*w*(sy+1)]
			o := out
			if t.dx >= 0 {
				o, in = o[min(4*t.dx, len(o)):], in[:max(0, len(in)-4*t.dx)]
			} else {
				o, in = o[:max(0, len(o)+4*t.dx)], in[min(-4*t.dx, len(in)):]
			}
			for i, p := range in {
				o[i] += t.w * p
			}
		}
	}
	l.pix = dst
}

// disk returns places spread evenly over a disk of radius r, the picture of a defocused point:
// rings of equal width, points by area, each ring at the root mean square radius of its part.
func disk(r float64) []ruler.Point {
	var ps []ruler.Point
	n := max(1, int(math.Ceil(r*2)))
	for i := range n {
		rr := r * math.Sqrt(float64(i*i+i)+0.5) / float64(n)
		m := 4 * (2*i + 1)
		for j := range m {
			s, c := math.Sincos(2 * math.Pi * (float64(j) + 0.5*float64(i%2)) / float64(m))
			ps = append(ps, ruler.Point{X: rr * c, Y: rr * s})
		}
	}
	return ps
}

// Defocus spreads every pixel over a disk of radius r pixels. Small disks are splatted; large ones are
// summed line by line with running sums, the ends of each line in part.
func (l *Layer) Defocus(r float64) {
	if r <= 6 {
		l.Convolve(Splat(disk(r)))
		return
	}
	w, h := l.Rect.Dx(), l.Rect.Dy()
	dst := make([]float32, len(l.pix))
	sums := make([]float64, 4*(w+1))
	reach := int(r)
	chord := func(dy int) float64 { return 2 * math.Sqrt(r*r-float64(dy*dy)) }
	area := 0.0
	for dy := -reach; dy <= reach; dy++ {
		area += chord(dy)
	}
	for y := range h {
		for i, v := range l.pix[4*w*y : 4*w*(y+1)] {
			sums[i+4] = sums[i] + float64(v)
		}
		for dy := max(-reach, -y); dy <= min(reach, h-1-y); dy++ {
			c := chord(dy)
			addRun(dst[4*w*(y+dy):4*w*(y+dy+1)], sums, max(0, (c-1)/2), min(1, c)/area)
		}
	}
	l.pix = dst
}

// addRun adds k times the sum of each pixel, half pixels to each side of it, and parts of the next
// ones.
func addRun(out []float32, sums []float64, half, k float64) {
	n := len(out) / 4
	whole := int(half)
	part := half - float64(whole)
	for x := range n {
		lo, hi := max(0, x-whole), min(n-1, x+whole)
		lo1, hi1 := max(0, lo-1), min(n-1, hi+1)
		for c := range 4 {
			inner := sums[4*(hi+1)+c] - sums[4*lo+c]
			outer := sums[4*(hi1+1)+c] - sums[4*lo1+c]
			out[4*x+c] += float32(k * (inner + part*(outer-inner)))
		}
	}
}
