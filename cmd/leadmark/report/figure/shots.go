package figure

import (
	"cmp"
	"math"
	"slices"

	"leadmark/calib"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit"
	"leadmark/vision/ruler"
)

// shot is one frame that was read, ready to be drawn.
type shot struct {
	*calib.FrameResult
	Frame  int // place in Result.Frames
	Cond   int // place in series.conds
	Mark   int // number of its colour and shape
	V      float64
	VKnown bool
	Past   float64 // m, advance past the true trip place where that is known, else past the line
}

// Shots is what the figures share: the shots read, in shooting order, and their conditions.
type Shots struct {
	shots   []shot
	conds   []phrase.Condition
	of      [][]shot // by condition
	marks   []string // names of the marks, in order
	ordered bool     // by the times in the files; else as the run lists them
	kind    figureKind
	offset  float64 // m, taken off the advances so that they count from the true trip place
}

// figureKind is what the advances are drawn against.
type figureKind int

const (
	byCondition figureKind = iota
	bySpeed
	byDelay
)

// ListShots lists the frames that were read, in shooting order, with their conditions and marks.
func ListShots(r calib.Result) Shots {
	var s Shots
	if r.Fit.TripOffset != nil {
		s.offset = r.Fit.TripOffset.Value
	}
	for i := range r.Frames {
		f := &r.Frames[i]
		if f.Status != ruler.StatusRead {
			continue
		}
		v, ok := speedAt(f.Conditions, r)
		if !ok && f.Speed > 0 {
			v, ok = f.Speed, true
		}
		s.shots = append(s.shots, shot{FrameResult: f, Frame: i, V: v, VKnown: ok, Past: f.Advance - s.offset})
	}
	s.order()
	s.kind = kindOf(s.shots)
	s.conds = distinct(s.shots, func(x shot) phrase.Condition { return phrase.ConditionOf(x.Conditions) })
	slices.SortFunc(s.conds, compareConditions)
	s.assignMarks()
	return s
}

// order sorts by the time taken where every file gives one.
func (s *Shots) order() {
	for _, x := range s.shots {
		if x.Taken.IsZero() {
			return
		}
	}
	s.ordered = true
	slices.SortStableFunc(s.shots, func(a, b shot) int { return a.Taken.Compare(b.Taken) })
}

func kindOf(shots []shot) figureKind {
	for _, x := range shots {
		if !x.VKnown {
			return kindBeyond(shots, byCondition)
		}
	}
	if len(distinct(shots, func(x shot) float64 { return x.V })) > 1 {
		return bySpeed
	}
	return kindBeyond(shots, byCondition)
}

func kindBeyond(shots []shot, otherwise figureKind) figureKind {
	if len(distinct(shots, func(x shot) float64 { return x.Conditions.Delay })) > 1 {
		return byDelay
	}
	return otherwise
}

// assignMarks gives each condition a mark and its shots; in a sweep of the delay all delays share one.
func (s *Shots) assignMarks() {
	key := func(c phrase.Condition) string {
		if s.kind == byDelay {
			c.Delay = 0
		}
		return c.Name()
	}
	number, mark := map[phrase.Condition]int{}, map[string]int{}
	for i, c := range s.conds {
		number[c] = i
		if _, had := mark[key(c)]; !had {
			mark[key(c)] = len(s.marks)
			s.marks = append(s.marks, key(c))
		}
	}
	s.of = make([][]shot, len(s.conds))
	for i := range s.shots {
		x := &s.shots[i]
		x.Cond = number[phrase.ConditionOf(x.Conditions)]
		x.Mark = mark[key(s.conds[x.Cond])]
		s.of[x.Cond] = append(s.of[x.Cond], *x)
	}
}

func compareConditions(a, b phrase.Condition) int {
	return cmp.Or(cmp.Compare(a.Drop, b.Drop), cmp.Compare(a.Speed, b.Speed),
		cmp.Compare(a.Group, b.Group), cmp.Compare(a.Delay, b.Delay))
}

// distinct lists the different keys of the shots in the order met.
func distinct[K comparable](shots []shot, key func(shot) K) []K {
	var out []K
	had := map[K]bool{}
	for _, x := range shots {
		if k := key(x); !had[k] {
			had[k] = true
			out = append(out, k)
		}
	}
	return out
}

// speedAt is the speed of a condition at the trip point, in m/s, and whether it is known:
// v = sqrt(2 g h) for a drop of height h from rest (uniform acceleration; any textbook of
// mechanics), else as measured, else as the run estimated it for the group.
func speedAt(c runfile.Conditions, r calib.Result) (float64, bool) {
	switch {
	case c.Drop > 0:
		g := c.Gravity
		if g == 0 {
			g = phrase.StandardGravity
		}
		return math.Sqrt(2 * g * c.Drop), true
	case c.Speed > 0:
		return c.Speed, true
	}
	for _, s := range r.Fit.Speeds {
		if s.Group == c.Group {
			return s.Value, true
		}
	}
	return 0, false
}

// advanceOf is the summary of the advances made under condition c; nil where there is none.
func advanceOf(r calib.Result, c phrase.Condition) *fit.AdvanceGroup {
	for i, g := range r.Fit.Advance {
		if (phrase.Condition{Drop: g.Drop, Speed: g.Speed, Delay: g.Delay, Group: g.Group}) == c {
			return &r.Fit.Advance[i]
		}
	}
	return nil
}

// pastWhat names the place the figures count from.
func pastWhat(r calib.Result) string {
	switch {
	case r.Fit.TripOffset != nil:
		return "the trip point"
	case r.CountLine == nil:
		return "the zero of the readings"
	}
	return "the " + phrase.LineName(r)
}

func rangeOf(r calib.Result, s Shots, share float64) (lo, hi, pad float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, x := range s.shots {
		lo, hi = min(lo, x.Past/phrase.MM.SI), max(hi, x.Past/phrase.MM.SI)
	}
	for _, g := range r.Fit.Advance {
		if g.Tolerance95 != nil {
			lo = min(lo, (g.Tolerance95.Low-s.offset)/phrase.MM.SI)
			hi = max(hi, (g.Tolerance95.High-s.offset)/phrase.MM.SI)
		}
	}
	return lo, hi, share
}
