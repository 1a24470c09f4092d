package marks

import (
	"math"
	"math/cmplx"

	"leadmark/vision/marks/tiles"
)

// wave is the complex amplitude of the pitch in every row of a strip, window by window.
type wave struct {
	t    []float64      // window centres along the axis
	amp  [][]complex128 // [window][row]
	edge [][]complex128 // likewise, beside the pitch's rate, where edges answer and graduations do not
}

// newWave measures the amplitude of the local pitch in windows of some twelve pitches.
func newWave(s *strip, g *tiles.Group) wave {
	var w wave
	for t := g.T0; t <= g.T1; t += windowPitches / 2 * g.Pitch(t) {
		w.t = append(w.t, t)
		half := windowPitches / 2 * g.Pitch(t)
		w.amp = append(w.amp, demodulate(s, t, half, g.Pitch(t)))
		w.edge = append(w.edge, demodulate(s, t, half, g.Pitch(t)/besideRate))
	}
	return w
}

// demodulate returns each row's complex amplitude at the pitch, in a Hann window about t.
func demodulate(s *strip, t, half, pitch float64) []complex128 {
	i0, i1 := max(0, int(s.col(t-half))), min(s.nt-1, int(s.col(t+half)))
	out := make([]complex128, s.nw)
	if i1-i0 < fewestSamples {
		return out
	}
	kernel := make([]complex128, i1-i0+1)
	var sum complex128
	var wsum float64
	for i := range kernel {
		x := s.t(i0+i) - t
		w := 0.5 + 0.5*math.Cos(math.Pi*x/half)
		kernel[i] = complex(w, 0) * cmplx.Exp(complex(0, -2*math.Pi*x/pitch))
		sum += kernel[i]
		wsum += w
	}
	for i := range kernel { // no answer to a constant
		kernel[i] -= sum / complex(float64(len(kernel)), 0)
	}
	for j := range out {
		out[j] = dotRow(s.val[j*s.nt+i0:][:len(kernel)], kernel) / complex(wsum, 0)
	}
	return out
}

func dotRow(row []float32, kernel []complex128) complex128 {
	var re, im float64
	for i, v := range row {
		if v != v {
			return 0
		}
		re += float64(v) * real(kernel[i])
		im += float64(v) * imag(kernel[i])
	}
	return complex(re, im)
}

// step is the phase step from row to row over all windows: how far the marks lean from square
// to the axis.
func (w wave) step(j0, j1 int) float64 {
	var sum complex128
	for _, a := range w.amp {
		for j := j0; j < j1 && j+1 < len(a); j++ {
			sum += a[j+1] * cmplx.Conj(a[j])
		}
	}
	return cmplx.Phase(sum)
}

// lean fits the marks' lean as a straight line over the windows, from the phase between rows
// half a band apart; step is the mean phase step from row to row.
func (w wave) lean(s *strip, g *tiles.Group, q band, step float64) lean {
	far := max(1, (q.j1-q.j0)/2)
	var sw, st, sy, stt, sty float64
	var seen []weighed
	for k, a := range w.amp {
		var sum complex128
		for j := q.j0; j+far <= q.j1; j++ {
			sum += a[j+far] * cmplx.Conj(a[j])
		}
		sum *= cmplx.Exp(complex(0, -step*float64(far)))
		p, t := cmplx.Abs(sum), w.t[k]
		phase := step + cmplx.Phase(sum)/float64(far)
		y := -phase * g.Pitch(t) / (2 * math.Pi) / s.step
		seen = append(seen, weighed{p, t, y})
		sw, st, sy = sw+p, st+p*t, sy+p*y
		stt, sty = stt+p*t*t, sty+p*t*y
	}
	den := sw*stt - st*st
	if sw <= 0 {
		return lean{}
	}
	if len(w.t) < turnWindows || den <= 0 {
		return lean{shear: sy / sw, shearU: scatter(seen, sy/sw, 0)}
	}
	turn := (sw*sty - st*sy) / den
	shear := (sy - turn*st) / sw
	return lean{shear: shear, turn: turn, shearU: scatter(seen, shear, turn)}
}

// weighed is a value y at t of some weight.
type weighed struct{ weight, t, y float64 }

// scatter is the standard uncertainty of the mean of values about a line a + b t. Windows overlap
// by a half, so that two of three count as independent; where there are too few to tell, it is that
// of a bad picture.
func scatter(v []weighed, a, b float64) float64 {
	var sw, ss, n float64
	for _, x := range v {
		d := x.y - a - b*x.t
		sw, ss = sw+x.weight, ss+x.weight*d*d
	}
	if n = ownWindows * float64(len(v)); n < leastFree {
		return unknownLean
	}
	return math.Sqrt(ss / sw / (n - leanUnknowns))
}

// level is the amplitude of each row over all windows, rows averaged along the marks.
func (w wave) level(step float64) []float64 {
	if len(w.amp) == 0 {
		return nil
	}
	out := make([]float64, len(w.amp[0]))
	for k, a := range w.amp {
		edge := coherent(w.edge[k], besideRate*step)
		for j, v := range coherent(a, step) {
			out[j] += max(0, v*v-edge[j]*edge[j])
		}
	}
	for j := range out {
		out[j] = math.Sqrt(out[j] / float64(len(w.amp)))
	}
	return out
}

// coherent averages each row with its neighbours, turned by the phase step.
func coherent(a []complex128, step float64) []float64 {
	out := make([]float64, len(a))
	for j := range a {
		var sum complex128
		n := 0
		for k := -coherentRows; k <= coherentRows; k++ {
			if j+k >= 0 && j+k < len(a) {
				sum += a[j+k] * cmplx.Exp(complex(0, -step*float64(k)))
				n++
			}
		}
		out[j] = cmplx.Abs(sum) / float64(n)
	}
	return out
}

// findBand finds the rows of the strip in which the group's pitch is strong.
func findBand(s *strip, g *tiles.Group) (band, wave, bool) {
	w := newWave(s, g)
	side := tiles.Side / 2 * math.Exp2(float64(g.Level))
	a, b := s.row(g.W0-side), s.row(g.W1+side)
	if len(w.t) == 0 || b <= a {
		return band{}, w, false
	}
	level := w.level(w.step(a, b))
	top := a
	for j := a; j <= b; j++ {
		if level[j] > level[top] {
			top = j
		}
	}
	if level[top] <= 0 {
		return band{}, w, false
	}
	q := band{j0: top, j1: top}
	q.widest(level, a, b, g.Pitch0/s.step)
	top = (q.j0 + q.j1) / 2
	step := w.step(q.j0, max(q.j0+1, q.j1))
	q.lean = w.lean(s, g, q, step)
	q.power = level[top]
	q.tilt = w.drift(s, q, step)
	return q, w, true
}

// widest grows the band about its top between rows a and b. Where that is but a rim, such as the
// bright edge of clear plastic, the longest that lies not far below is taken.
func (q *band) widest(level []float64, a, b int, pitch float64) {
	gap := max(1, int(bandGap*pitch))
	top := q.j0
	q.j0, q.j1 = grow(level, top, -1, gap), grow(level, top, +1, gap)
	if float64(q.j1-q.j0+1) >= briefBand*pitch {
		return
	}
	rim := *q
	for _, way := range []int{-1, +1} {
		from := rim.j0 - 1
		if way > 0 {
			from = rim.j1 + 1
		}
		for j := from; j > a && j < b && math.Abs(float64(j-from)) < besideRim*pitch; j += way {
			end := grow(level, j, way, gap)
			n := way*(end-j) + 1
			if level[j] >= lowerBand*level[top] && float64(n) >= pitch && n > q.j1-q.j0+1 {
				q.j0, q.j1 = min(j, end), max(j, end)
			}
		}
	}
}

// grow walks from the top while the level stays on the band, over gaps of a few rows.
func grow(level []float64, top, way, gap int) int {
	last, below := top, 0
	for j := top + way; j >= 0 && j < len(level); j += way {
		if level[j] >= bandShare*level[top] {
			last, below = j, 0
		} else if below++; below > gap {
			break
		}
	}
	return last
}

// drift is the slope across the strip of the band's centre of power from window to window.
func (w wave) drift(s *strip, q band, step float64) float64 {
	reach := max(2, q.j1-q.j0)
	var sw, st, sy, stt, sty float64
	for k, a := range w.amp {
		c := coherent(a, step)
		var p, m float64
		for j := max(0, q.j0-reach/2); j <= min(len(c)-1, q.j1+reach/2); j++ {
			p += c[j] * c[j]
			m += c[j] * c[j] * s.w(j)
		}
		if p <= 0 {
			continue
		}
		y, t := m/p, w.t[k]
		sw, st, sy = sw+p, st+p*t, sy+p*y
		stt, sty = stt+p*t*t, sty+p*t*y
	}
	den := sw*stt - st*st
	if len(w.t) < driftWindows || den <= 0 {
		return 0
	}
	return (sw*sty - st*sy) / den
}
