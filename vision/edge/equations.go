package edge

// edgeUnknowns are those of an edge: place, two levels, slope, blur.
const edgeUnknowns = 5

// normal is the normal equations of a small least-squares fit with the first m unknowns.
type normal struct {
	m int
	a [edgeUnknowns][edgeUnknowns + 1]float64
}

func newNormal(m int) *normal { return &normal{m: m} }

// add takes in one residual r of weight w with its derivatives j.
func (n *normal) add(j [edgeUnknowns]float64, r, w float64) {
	for i := range n.m {
		wj := w * j[i]
		for k := i; k < n.m; k++ {
			n.a[i][k] += wj * j[k]
		}
		n.a[i][edgeUnknowns] += wj * r
	}
}

// solve returns the step and the first unknown's variance for unit weights; ok is false where the
// equations do not tell the unknowns apart. Elimination in the order of the last unknown to the
// first, so that the first one's pivot is the reciprocal of its variance.
func (n *normal) solve() (d [edgeUnknowns]float64, variance float64, ok bool) {
	a := n.a
	for i := range n.m {
		for k := range i {
			a[i][k] = a[k][i]
		}
	}
	for i := n.m - 1; i > 0; i-- {
		if !(a[i][i] > 1e-9*n.a[i][i]) || !(a[i][i] > 0) {
			return d, 0, false
		}
		for k := range i {
			f := a[k][i] / a[i][i]
			for c := range i {
				a[k][c] -= f * a[i][c]
			}
			a[k][edgeUnknowns] -= f * a[i][edgeUnknowns]
		}
	}
	if !(a[0][0] > 0) {
		return d, 0, false
	}
	for i := range n.m {
		v := a[i][edgeUnknowns]
		for k := range i {
			v -= a[i][k] * d[k]
		}
		d[i] = v / a[i][i]
	}
	return d, 1 / a[0][0], true
}
