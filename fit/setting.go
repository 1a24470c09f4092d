package fit

import (
	"cmp"
	"strings"
)

// Setting is what shots made alike have in common.
type Setting struct {
	Drop, Delay, Speed float64 // m, s, m/s, as in Shot
	Group              string
}

// Compare puts settings in the order in which they are listed: drop, speed, group, delay. It is
// negative where s comes first.
func (s Setting) Compare(other Setting) int {
	return cmp.Or(cmp.Compare(s.Drop, other.Drop), cmp.Compare(s.Speed, other.Speed),
		strings.Compare(s.Group, other.Group), cmp.Compare(s.Delay, other.Delay))
}

func settingOf(s Shot) Setting {
	if s.Each {
		return Setting{Delay: s.Delay, Group: s.Group}
	}
	return Setting{s.Drop, s.Delay, s.Speed, s.Group}
}

// batch is the shots of one setting, in the order of the run.
type batch struct {
	Setting
	shots []int
}

func batches(shots []Shot) []batch {
	var list []batch
	index := map[Setting]int{}
	for i, s := range shots {
		c := settingOf(s)
		k, ok := index[c]
		if !ok {
			k = len(list)
			index[c] = k
			list = append(list, batch{Setting: c})
		}
		list[k].shots = append(list[k].shots, i)
	}
	return list
}

// shotsOf are the shots of each batch.
func shotsOf(list []batch) [][]int {
	out := make([][]int, len(list))
	for k, b := range list {
		out[k] = b.shots
	}
	return out
}
