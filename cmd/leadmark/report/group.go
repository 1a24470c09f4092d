package report

import (
	"math"
	"strings"

	"leadmark/calib"
	"leadmark/calib/runfile"
	"leadmark/fit"
)

const standardGravity = 9.80665 // m/s^2, 3rd CGPM, 1901; used where a shot states no other

// condition is what shots made alike share.
type condition struct {
	Drop, Speed, Delay float64 // m, m/s, s; 0 where not stated
	Group              string
}

func conditionOf(c runfile.Conditions) condition {
	return condition{c.Drop, c.Speed, c.Delay, c.Group}
}

// name says a condition in words: "drop 400 mm, delay 5 ms".
func (c condition) name() string {
	var parts []string
	if c.Drop > 0 {
		parts = append(parts, "drop "+mm.stated(c.Drop))
	}
	if c.Speed > 0 {
		parts = append(parts, mps.stated(c.Speed))
	}
	if c.Group != "" {
		parts = append(parts, "group "+c.Group)
	}
	if c.Delay != 0 {
		parts = append(parts, "delay "+ms.stated(c.Delay))
	}
	if len(parts) == 0 {
		return "no delay added"
	}
	return strings.Join(parts, ", ")
}

func groupName(g fit.AdvanceGroup) string {
	return condition{g.Drop, g.Speed, g.Delay, g.Group}.name()
}

// speedAt is the speed of a condition at the trip point, in m/s, and whether it is known:
// v = sqrt(2 g h) for a drop of height h from rest (uniform acceleration; any textbook of
// mechanics), else as measured, else as the run estimated it for the group.
func speedAt(c runfile.Conditions, r calib.Result) (float64, bool) {
	switch {
	case c.Drop > 0:
		g := c.Gravity
		if g == 0 {
			g = standardGravity
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
func advanceOf(r calib.Result, c condition) *fit.AdvanceGroup {
	for i, g := range r.Fit.Advance {
		if (condition{g.Drop, g.Speed, g.Delay, g.Group}) == c {
			return &r.Fit.Advance[i]
		}
	}
	return nil
}
