package onelag

import (
	"fmt"

	"leadmark/fit/unit"
)

// Checks runs every test and holds them together to Level.
func Checks(r Run) []Check {
	clock := clockOf(r.Shots)
	list := []Check{r.orderCheck(clock), r.pauseCheck(clock), r.restCheck(clock), r.settingCheck(), r.twoLagsCheck()}
	holm(list)
	for i := range list {
		if c := &list[i]; c.Tested && !c.Alarm {
			c.Text = fmt.Sprintf("%s (chance of as much in a run with one lag: %s)", nothing[c.Name], unit.Chance(c.P))
		}
	}
	return list
}

// nothing is what a check says when it finds nothing.
var nothing = map[string]string{
	"order":    "no drift over the shooting order shows",
	"pause":    "shots after a pause do not stand out",
	"rest":     "the lag does not show to depend on the time since the shot before",
	"setting":  "no difference between exposure settings shows",
	"two-lags": "the shots look like one population",
}
