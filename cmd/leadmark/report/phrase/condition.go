package phrase

import (
	"strings"

	"leadmark/calib/runfile"
	"leadmark/fit"
)

const StandardGravity = 9.80665 // m/s^2, 3rd CGPM, 1901; used where a shot states no other

// Condition is what shots made alike share.
type Condition struct {
	Drop, Speed, Delay float64 // m, m/s, s; 0 where not stated
	Group              string
}

// ConditionOf is the condition that a shot was made under.
func ConditionOf(c runfile.Conditions) Condition {
	return Condition{c.Drop, c.Speed, c.Delay, c.Group}
}

// Name says a condition in words: "drop 400 mm, delay 5 ms".
func (c Condition) Name() string {
	var parts []string
	if c.Drop > 0 {
		parts = append(parts, "drop "+MM.Stated(c.Drop))
	}
	if c.Speed > 0 {
		parts = append(parts, MPS.Stated(c.Speed))
	}
	if c.Group != "" {
		parts = append(parts, "group "+c.Group)
	}
	if c.Delay != 0 {
		parts = append(parts, "delay "+MS.Stated(c.Delay))
	}
	if len(parts) == 0 {
		return "no delay added"
	}
	return strings.Join(parts, ", ")
}

// GroupName is the name of the condition that a group of advances shares.
func GroupName(g fit.AdvanceGroup) string {
	return Condition{g.Drop, g.Speed, g.Delay, g.Group}.Name()
}
