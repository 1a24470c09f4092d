package camera

import "math"

// Light is a picture in linear light, one plane a colour; 1 is the white of the exposure.
type Light struct {
	W, H int
	C    [3][]float32 // red, green, blue
}

// NewLight is a black picture.
func NewLight(w, h int) *Light {
	l := &Light{W: w, H: h}
	for k := range l.C {
		l.C[k] = make([]float32, w*h)
	}
	return l
}

// Sigma is the standard deviation of a blur, px, which may change across the picture: From at its
// left (or, where Down, its upper) border, To at the other.
type Sigma struct {
	From, To float64
	Down     bool
}

// At is the blur at a place.
func (s Sigma) At(x, y float64, w, h int) float64 {
	share := x / float64(max(1, w-1))
	if s.Down {
		share = y / float64(max(1, h-1))
	}
	return s.From + (s.To-s.From)*min(1, max(0, share))
}

// kernel is a half of a Gaussian's samples: the middle one, then outwards. Their variance is made
// that of the Gaussian less nothing: the pixels' own extent is the drawing's business.
func kernel(sigma float64) []float32 {
	if sigma < 0.05 {
		return []float32{1}
	}
	n := int(math.Ceil(3 * sigma))
	k, sum := make([]float32, n+1), 0.0
	for i := range k {
		v := math.Exp(-0.5 * math.Pow(float64(i)/sigma, 2))
		k[i] = float32(v)
		if sum += v; i > 0 {
			sum += v
		}
	}
	for i := range k {
		k[i] /= float32(sum)
	}
	return k
}

// kernels are those for n places from one border to the other.
func (s Sigma) kernels(n int) [][]float32 {
	byStep := map[int][]float32{}
	out := make([][]float32, n)
	for i := range out {
		step := int(math.Round(20 * (s.From + (s.To-s.From)*float64(i)/float64(max(1, n-1)))))
		if byStep[step] == nil {
			byStep[step] = kernel(float64(step) / 20)
		}
		out[i] = byStep[step]
	}
	return out
}

// Blur blurs the picture in place.
func (l *Light) Blur(s Sigma) {
	row, column := s.kernels(l.W), s.kernels(l.W)
	if s.Down {
		row, column = s.kernels(l.H), s.kernels(l.H)
	}
	buf := make([]float32, l.W)
	acc := make([]float32, l.W*l.H)
	for c := range l.C {
		for y := range l.H {
			line := l.C[c][y*l.W : (y+1)*l.W]
			copy(buf, line)
			if s.Down {
				smooth(line, buf, func(int) []float32 { return row[y] })
			} else {
				smooth(line, buf, func(x int) []float32 { return row[x] })
			}
		}
		for y := range l.H {
			out := acc[y*l.W : (y+1)*l.W]
			if s.Down {
				down(out, l.C[c], l.W, l.H, y, column[y])
			} else {
				downEach(out, l.C[c], l.W, l.H, y, column)
			}
		}
		l.C[c], acc = acc, l.C[c]
	}
}

// smooth blurs a line; beyond its ends the last value goes on.
func smooth(out, in []float32, at func(x int) []float32) {
	n := len(in)
	for x := range out {
		k := at(x)
		sum := k[0] * in[x]
		if r := len(k) - 1; x >= r && x+r < n {
			for i := 1; i <= r; i++ {
				sum += k[i] * (in[x-i] + in[x+i])
			}
		} else {
			for i := 1; i <= r; i++ {
				sum += k[i] * (in[max(0, x-i)] + in[min(n-1, x+i)])
			}
		}
		out[x] = sum
	}
}

// down blurs one row from those above and below it.
func down(out, plane []float32, w, h, y int, k []float32) {
	for x, v := range plane[y*w : (y+1)*w] {
		out[x] = k[0] * v
	}
	for i := 1; i < len(k); i++ {
		a, b := plane[max(0, y-i)*w:][:w], plane[min(h-1, y+i)*w:][:w]
		f := k[i]
		for x := range out {
			out[x] += f * (a[x] + b[x])
		}
	}
}

// downEach is down with a kernel a column; columns of one kernel go together.
func downEach(out, plane []float32, w, h, y int, ks [][]float32) {
	for from := 0; from < w; {
		to := from + 1
		for to < w && &ks[to][0] == &ks[from][0] {
			to++
		}
		k := ks[from]
		for x := from; x < to; x++ {
			out[x] = k[0] * plane[y*w+x]
		}
		for i := 1; i < len(k); i++ {
			a, b := plane[max(0, y-i)*w:][:w], plane[min(h-1, y+i)*w:][:w]
			for x := from; x < to; x++ {
				out[x] += k[i] * (a[x] + b[x])
			}
		}
		from = to
	}
}
