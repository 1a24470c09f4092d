package fit

import "math"

// Columns of the design: the lag, the trip offset, one speed a group, then errors shared by the
// whole run that have a known standard deviation (unit normal after scaling).
const (
	colLag  = 0
	colTrip = 1
	colSpan = 2 // first group speed
)

// minReadU stands for a reading said to be free of error: 0.1 micrometre, far below any ruler.
const minReadU = 1e-7

// layout says which column holds what and which shots share an error.
type layout struct {
	run       Run
	groups    []string
	groupOf   []int // index into groups, -1 when the speed is known
	known     []float64
	block     []int // shots that share the error of one stated height; -1: none
	blocks    int
	colCommon int // -1: not there
	colGrav   int
	p         int
	prior     []float64 // precision of each column, 0 when free
	heldLag   bool      // the readings cannot tell the lag: it is not moved
}

func newLayout(run Run) *layout {
	l := &layout{run: run, colCommon: -1, colGrav: -1}
	n := len(run.Shots)
	l.groupOf, l.known, l.block = make([]int, n), make([]float64, n), make([]int, n)
	index, drops := map[string]int{}, false
	for i, s := range run.Shots {
		l.groupOf[i], l.known[i] = -1, s.Speed
		switch {
		case s.Drop > 0:
			drops = true
			l.known[i] = math.Sqrt(2 * run.Gravity * s.Drop) // free fall from rest
		case s.Speed == 0:
			g, ok := index[s.Group]
			if !ok {
				g = len(l.groups)
				index[s.Group] = g
				l.groups = append(l.groups, s.Group)
			}
			l.groupOf[i] = g
		}
	}
	l.shareHeights()
	l.p = colSpan + len(l.groups)
	if drops && run.DropCommonU > 0 {
		l.colCommon, l.p = l.p, l.p+1
	}
	if drops && run.GravityU > 0 {
		l.colGrav, l.p = l.p, l.p+1
	}
	l.prior = make([]float64, l.p)
	if run.TripU != nil {
		u := math.Max(*run.TripU, minReadU)
		l.prior[colTrip] = 1 / (u * u)
	}
	if l.colCommon >= 0 {
		l.prior[l.colCommon] = 1
	}
	if l.colGrav >= 0 {
		l.prior[l.colGrav] = 1
	}
	return l
}

// shareHeights numbers the stated heights that carry an error of their own.
func (l *layout) shareHeights() {
	ids := map[float64]int{}
	for i, s := range l.run.Shots {
		l.block[i] = -1
		if s.Drop == 0 || s.DropU == 0 {
			continue
		}
		id, ok := ids[s.Drop]
		if !ok {
			id = len(ids)
			ids[s.Drop] = id
		}
		l.block[i] = id
	}
	l.blocks = len(ids)
}

// speed is the speed of shot i at the trip point, for the unknowns theta.
func (l *layout) speed(theta []float64, i int) float64 {
	if g := l.groupOf[i]; g >= 0 {
		return theta[colSpan+g]
	}
	return l.known[i]
}

func (l *layout) accel(i int) float64 {
	if l.run.Shots[i].Drop > 0 {
		return l.run.Gravity
	}
	return 0
}

func sq(x float64) float64 { return x * x }
