package scene

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"leadmark/vision/ruler"
)

// What is fitted of a scene's move, in places of the coarse picture: how far its middle went, by how
// much it turned, grew and leans at the rim, and what gain and offset the light has.
const (
	params = 8
	gain   = 6
	offset = 7
)

// fitted is one set of them.
type fitted [params]float64

// to is where a place, given from the middle of the picture, lies after the move.
func (f *fitted) to(x, y, half float64) (float64, float64) {
	u, v := x/half, y/half
	k := 1 / (1 - (f[4]*u+f[5]*v)/half)
	return k * (x + f[0] + f[3]*u - f[2]*v), k * (y + f[1] + f[3]*v + f[2]*u)
}

// spot is a place of the first picture that is compared.
type spot struct{ x, y, tone, right, down float64 }

// aligner fits the move that turns scene a into scene b by least squares on the tones (Lucas and
// Kanade 1981), with Huber's weights against what differs. Leaned on what a knock does (priors), so
// that where the texture supports less than all of it, the rest stays nil.
type aligner struct {
	b            ruler.Backdrop
	tone         []float32 // of b, smoothed
	spots        []spot
	cx, cy, half float64
	fitted       fitted
	free         [params]bool
	scatter      float64 // robust scatter of what is left
	cov          [params][params]float64
	normal       [params][params]float64 // equations of the pass before
	settled      bool                    // they hold on: the last step was short
	went         float64                 // places, of the middle in the last step
}

func newAligner(a, b ruler.Backdrop) *aligner {
	f := &aligner{b: b, tone: smooth(b), cx: float64(a.Width-1) / 2, cy: float64(a.Height-1) / 2}
	f.half = math.Hypot(f.cx, f.cy)
	f.fitted[gain] = 1
	tone := smooth(a)
	f.spots = make([]spot, 0, len(tone)/2+1)
	for y := rim; y < a.Height-rim; y++ {
		for x := rim + y%2; x < a.Width-rim; x += 2 { // every other: neighbours are smoothed together
			i := y*a.Width + x
			if a.Hidden[i] || (a.Hidden[i-1] || a.Hidden[i+1] || a.Hidden[i-a.Width] || a.Hidden[i+a.Width]) {
				continue
			}
			t := func(k int) float64 { return float64(tone[k]) }
			f.spots = append(f.spots, spot{float64(x) - f.cx, float64(y) - f.cy, t(i), (t(i+1) - t(i-1)) / 2,
				(t(i+a.Width) - t(i-a.Width)) / 2})
		}
	}
	return f
}

// smooth is a scene's tones, each the mean of its neighbourhood with weights 1, 4, 6, 4, 1 either way.
// A picture so much reduced shows detail as fine as its places elsewhere than it lies, and draws a fit
// towards whole ones.
func smooth(b ruler.Backdrop) []float32 {
	out := make([]float32, len(b.Tone))
	for i, t := range b.Tone {
		out[i] = float32(t)
	}
	old := make([]float32, len(out))
	for _, d := range []int{1, b.Width} {
		copy(old, out)
		for i := 2 * d; i+2*d < len(out); i++ {
			out[i] = (old[i-2*d]+old[i+2*d])/16 + (old[i-d]+old[i+d])/4 + old[i]*3/8
		}
	}
	return out
}

// run fits what is free of the move, from where the aligner is; ok is false where too little can be
// compared.
func (f *aligner) run(free ...int) (ok bool) {
	f.free, f.settled = [params]bool{gain: true, offset: true}, false
	for _, k := range free {
		f.free[k] = true
	}
	for range finePasses {
		step, ok := f.improve()
		if !ok {
			return false
		}
		if step < smallStep {
			break
		}
		f.settled = step < shortStep
	}
	return true
}

// roughly fits how far the middle went, by a part of the places, as near as the rest can go on from.
func (f *aligner) roughly() bool {
	all := f.spots
	if len(all) > fewOf*fewestSpots {
		f.spots = make([]spot, 0, len(all)/fewOf+1)
		for i := 0; i < len(all); i += fewOf {
			f.spots = append(f.spots, all[i])
		}
	}
	defer func() { f.spots = all }()
	f.free = [params]bool{0: true, 1: true, gain: true, offset: true}
	for range mostPasses {
		if _, ok := f.improve(); !ok {
			return false
		}
		if f.went < nearEnough {
			break
		}
	}
	return true
}

// improve makes one Gauss-Newton step and returns how far it goes, in standard uncertainties of what moves most.
func (f *aligner) improve() (float64, bool) {
	n := &f.normal
	if !f.settled {
		*n = [params][params]float64{}
	}
	var g [params]float64
	used, loss := 0, 0.0
	cut := huber * max(f.scatter, noise)
	for i := range f.spots {
		s := &f.spots[i]
		x, y := f.fitted.to(s.x, s.y, f.half)
		v, ok := f.toneAt(x+f.cx, y+f.cy)
		if !ok {
			continue
		}
		used++
		r := f.fitted[gain]*s.tone + f.fitted[offset] - v
		w := 1.0
		if math.Abs(r) > cut {
			w = cut / math.Abs(r)
		}
		loss += math.Abs(r)
		j := f.slopes(s)
		for p := range j {
			wj := w * j[p]
			if g[p] += wj * r; f.settled {
				continue
			}
			for q := p; q < params; q++ {
				n[p][q] += wj * j[q]
			}
		}
	}
	if used < fewestSpots {
		return 0, false
	}
	f.scatter = 1.25 * loss / float64(used) // mean deviation of a normal distribution
	return f.step(*n, g)
}

// slopes are by how much the tone seen where a spot comes to lie grows with each of what is fitted, less what
// is expected there.
func (f *aligner) slopes(s *spot) [params]float64 {
	k := f.fitted[gain]
	dx, dy := k*s.right, k*s.down
	u, v := s.x/f.half, s.y/f.half
	out := dx*u + dy*v
	return [params]float64{dx, dy, dy*u - dx*v, out, out * u, out * v, -s.tone, -1}
}

// step solves the normal equations, what is not free held, and takes the step.
func (f *aligner) step(n [params][params]float64, g [params]float64) (float64, bool) {
	var at []int
	prior, sigma := priors(), max(f.scatter, noise)
	for p := range n {
		if f.free[p] {
			at = append(at, p)
		}
		if prior[p] > 0 {
			w := shared * sigma * sigma / (prior[p] * prior[p])
			n[p][p] += w
			g[p] -= w * f.fitted[p]
		}
	}
	n[0][0], n[1][1] = n[0][0]+1, n[1][1]+1 // solvable where there is no contrast at all
	m, r := mat.NewSymDense(len(at), nil), mat.NewVecDense(len(at), nil)
	for i, p := range at {
		r.SetVec(i, g[p])
		for k := i; k < len(at); k++ {
			m.SetSym(i, k, n[p][at[k]])
		}
	}
	var chol mat.Cholesky
	var d mat.VecDense
	var inv mat.SymDense
	if !chol.Factorize(m) || chol.SolveVecTo(&d, r) != nil || chol.InverseTo(&inv) != nil {
		return 0, false
	}
	for i, p := range at {
		f.fitted[p] += d.AtVec(i)
		for j, q := range at {
			f.cov[p][q] = shared * sigma * sigma * inv.At(i, j)
		}
	}
	f.went = 0
	far := 0.0
	for i, p := range at {
		if p < 2 {
			f.went = math.Hypot(f.went, d.AtVec(i))
		}
		if p < gain {
			far = max(far, math.Abs(d.AtVec(i))/math.Sqrt(f.cov[p][p]))
		}
	}
	return far, true
}

// toneAt is the tone of scene b between places, by Keys' cubic (1981), which does not draw a fit
// towards whole places as straight lines do; ok is false where a ruler may hide it.
func (f *aligner) toneAt(x, y float64) (v float64, ok bool) {
	x0, y0 := int(math.Floor(x)), int(math.Floor(y))
	w := f.b.Width
	if x0 < rim || y0 < rim || x0 >= w-rim-1 || y0 >= f.b.Height-rim-1 {
		return 0, false
	}
	i := y0*w + x0
	if f.b.Hidden[i] || f.b.Hidden[i+1] || f.b.Hidden[i+w] || f.b.Hidden[i+w+1] {
		return 0, false
	}
	cx, cy := keys(x-float64(x0)), keys(y-float64(y0))
	for k, c := range cy {
		row := f.tone[i+(k-1)*w-1:][:4]
		v += c * (cx[0]*float64(row[0]) + cx[1]*float64(row[1]) + cx[2]*float64(row[2]) + cx[3]*float64(row[3]))
	}
	return v, true
}

func keys(t float64) [4]float64 {
	return [4]float64{((-0.5*t+1)*t - 0.5) * t, (1.5*t-2.5)*t*t + 1, ((-1.5*t+2)*t + 0.5) * t, (0.5*t - 0.5) * t * t}
}
