package main

import (
	"maps"
	"slices"
)

// circles returns the strongly connected parts of a graph that have more than one node, the largest
// first (Tarjan, SIAM J. Comput. 1 (1972) 146).
func circles(uses map[string]map[string]bool) [][]string {
	t := tarjan{uses: uses, number: map[string]int{}, low: map[string]int{}, open: map[string]bool{}}
	for _, name := range slices.Sorted(maps.Keys(uses)) {
		if t.number[name] == 0 {
			t.visit(name)
		}
	}
	slices.SortStableFunc(t.found, func(a, b []string) int { return len(b) - len(a) })
	return t.found
}

type tarjan struct {
	uses        map[string]map[string]bool
	number, low map[string]int // numbers begin at 1
	stack       []string
	open        map[string]bool // on the stack
	found       [][]string
}

func (t *tarjan) visit(name string) {
	t.number[name] = len(t.number) + 1
	t.low[name] = t.number[name]
	t.stack, t.open[name] = append(t.stack, name), true
	for _, other := range slices.Sorted(maps.Keys(t.uses[name])) {
		if t.number[other] == 0 {
			t.visit(other)
			t.low[name] = min(t.low[name], t.low[other])
		} else if t.open[other] {
			t.low[name] = min(t.low[name], t.number[other])
		}
	}
	if t.low[name] == t.number[name] {
		t.close(name)
	}
}

// close takes from the stack the part whose first node is name.
func (t *tarjan) close(name string) {
	i := slices.Index(t.stack, name)
	part := slices.Sorted(slices.Values(t.stack[i:]))
	t.stack = t.stack[:i]
	for _, one := range part {
		delete(t.open, one)
	}
	if len(part) > 1 {
		t.found = append(t.found, part)
	}
}
