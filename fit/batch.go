package fit

// condition is what shots made alike have in common.
type condition struct {
	drop, delay, speed float64
	group              string
}

func conditionOf(s Shot) condition {
	if s.Each {
		return condition{delay: s.Delay, group: s.Group}
	}
	return condition{s.Drop, s.Delay, s.Speed, s.Group}
}

// batch is the shots of one condition, in the order of the run.
type batch struct {
	condition
	shots []int
}

func batches(shots []Shot) []batch {
	var list []batch
	index := map[condition]int{}
	for i, s := range shots {
		c := conditionOf(s)
		k, ok := index[c]
		if !ok {
			k = len(list)
			index[c] = k
			list = append(list, batch{condition: c})
		}
		list[k].shots = append(list[k].shots, i)
	}
	return list
}

// whole tells whether a batch of several shots is odd from end to end.
func (b batch) whole(odd []bool) bool {
	for _, i := range b.shots {
		if !odd[i] {
			return false
		}
	}
	return len(b.shots) > 1
}
