package marks

import (
	"math"
	"sort"
)

// lengths measures how far each mark runs from the band's middle, px of the picture, to the
// side of rising w (up) and of falling w (down).
func (f finding) lengths() (up, down []float64) {
	for i, k := range f.graduations {
		p := f.localPitch(i)
		up = append(up, f.runs(k, p, +1))
		down = append(down, f.runs(k, p, -1))
	}
	return up, down
}

// lengthsInward are those to the side on which the ruler's middle lies, and that side.
func (f finding) lengthsInward() (length []float64, side int) {
	up, down := f.lengths()
	if side = f.bodySide(up, down); side < 0 {
		return down, side
	}
	return up, side
}

// runs walks along a mark until it fades.
func (f finding) runs(k graduation, pitch float64, way int) float64 {
	s, mid := f.s, int(math.Round(f.q.mid()))
	reach := int(lengthReach * reachPitches * pitch / s.step)
	width := max(1, int(lengthRows*pitch/s.step)) // rows averaged
	ref := f.contrast(k.t, pitch, f.q.j0, f.q.j1)
	last, weak := 0, 0
	for n := 0; n < reach; n++ {
		j := mid + way*n
		if j-width < 0 || j+width >= s.nw {
			break
		}
		if f.contrast(k.t, pitch, j-width, j+width) >= fadesTo*ref {
			last, weak = n, 0
		} else if weak++; float64(weak)*s.step > fadesOver*pitch {
			break
		}
	}
	return float64(last) * s.step
}

// contrast is the mean of rows j0 to j1 on a mark less that half a pitch to either side.
func (f finding) contrast(t, pitch float64, j0, j1 int) float64 {
	sum, n := 0.0, 0
	for j := j0; j <= j1; j++ {
		x := f.s.col(t) + f.q.at(t)*(float64(j)-f.q.mid())
		h := pitch / f.s.step / 2
		v := f.s.lineAt(j, x) - (f.s.lineAt(j, x-h)+f.s.lineAt(j, x+h))/2
		if v == v {
			sum += v
			n++
		}
	}
	if n == 0 {
		return 0
	}
	if f.tr.dark {
		sum = -sum
	}
	return sum / float64(n)
}

// bodySide says to which side of the marks the ruler's middle lies: there the longer marks run,
// every fifth, or every second or fourth of an inch's. What else makes marks look long, such as
// an edge in the scene, does not keep that order.
func (f finding) bodySide(up, down []float64) int {
	if f.explained(up) >= f.explained(down) {
		return +1
	}
	return -1
}

// explained is the variance of the marks' lengths that their place in fives or fours explains.
func (f finding) explained(length []float64) float64 {
	top := longestPitches * f.localPitch(len(f.graduations)/2)
	best := 0.0
	for _, period := range []int{5, 4} {
		sum, n := make([]float64, period), make([]float64, period)
		var all float64
		for i, k := range f.graduations {
			c := ((k.index % period) + period) % period
			sum[c] += min(length[i], top)
			n[c]++
			all += min(length[i], top)
		}
		mean := all / float64(len(f.graduations))
		var between float64
		for c := range sum {
			if n[c] > 0 {
				between += (sum[c] - n[c]*mean) * (sum[c] - n[c]*mean) / n[c]
			}
		}
		best = max(best, between)
	}
	return best
}

// middles fits where the shortest marks have their middle, px across the axis, as a line along
// it: at + turn t.
func (f finding) middles(up, down []float64) (at, turn float64) {
	whole := make([]float64, len(up))
	for i := range up {
		whole[i] = up[i] + down[i]
	}
	sorted := append([]float64(nil), whole...)
	sort.Float64s(sorted)
	short := sorted[len(sorted)*3/10]
	var t, w []float64
	for i, k := range f.graduations {
		if math.Abs(whole[i]-short) <= shortAlike*short {
			t, w = append(t, k.t), append(w, (up[i]-down[i])/2)
		}
	}
	return theilSen(t, w, 0)
}
