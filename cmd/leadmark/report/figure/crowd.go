package figure

import (
	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/cmd/leadmark/report/phrase"
)

// mostMarks is up to how many shots each has a mark of its own. Of more, marks hide one another and
// say less than how many lie where. Chosen by eye.
const mostMarks = 300

// crowded says whether there are too many shots for a mark each.
func (s Shots) crowded() bool { return len(s.shots) > mostMarks }

// mostConditions is how many conditions of a run with more than mostMarks shots are drawn and named one
// by one: colours and shapes repeat long before.
const mostConditions = 40

// blocks are the conditions that have a block of their own.
func (s Shots) blocks() []phrase.Condition {
	if s.crowded() {
		return s.conds[:min(len(s.conds), mostConditions)]
	}
	return s.conds
}

// oneForMany is said of figures in which marks are thinned.
const oneForMany = " Of marks that would cover one another only one is drawn."

// thinner draws of marks that would cover one another only one, so that a figure does not grow with
// the shots.
type thinner struct {
	all   bool // there are few
	taken map[place]bool
}

// place is a square of a figure, of odd shots or of the others.
type place struct {
	x, y int
	odd  bool
}

// Places are about as wide as half a mark, px; the mark of an odd shot is larger.
const (
	markPlace = 4
	oddPlace  = 8
)

func newThinner(s Shots) *thinner { return &thinner{!s.crowded(), map[place]bool{}} }

// mark draws a shot's mark.
func (t *thinner) mark(c *svg.Canvas, x shot, cx, cy, r, odd float64) {
	switch {
	case !t.free(cx, cy, x.Fit.Outlier):
	case x.Fit.Outlier:
		c.OutlierMark(cx, cy, odd)
	default:
		c.Mark(x.Mark, cx, cy, r)
	}
}

// free says whether no such mark stands in the place yet, and takes it.
func (t *thinner) free(cx, cy float64, odd bool) bool {
	side := float64(markPlace)
	if odd {
		side = oddPlace
	}
	at := place{int(cx / side), int(cy / side), odd}
	had := t.taken[at]
	t.taken[at] = true
	return t.all || !had
}
