package onelag

import "leadmark/fit/note"

// Checks runs every test and holds them together to Level.
func Checks(r Run) []Check {
	clock := clockOf(r.Shots)
	list := []Check{r.orderCheck(clock), r.pauseCheck(clock), r.restCheck(clock), r.settingCheck(), r.twoLagsCheck()}
	holm(list)
	for i := range list {
		if c := &list[i]; c.Tested && !c.Alarm {
			c.Note = note.Of(c.Name, "nothing", c.P)
		}
	}
	return list
}
