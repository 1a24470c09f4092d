package main

import "fmt"

// studies are small forms of the studies: two seeds of each that takes one. What tells times alone
// is none of them.
func studies(short bool) []item {
	seeds := []int{1, 2}
	size := map[string][]string{
		"readstudy": {"-frames", "2", "-unreadable", "10"}, "checkstudy": {"-sets", "3"},
		"loopstudy": {"-loops", "4", "-pictures", "1"},
		"coverage":  {"4", "small"}, "codesearch": {"-n", "400"}, "brokenstudy": {"20"},
	}
	if short {
		seeds = seeds[:1]
		size["readstudy"] = []string{"-frames", "1", "-unreadable", "5"}
		size["checkstudy"] = []string{"-sets", "1"}
		size["loopstudy"] = []string{"-loops", "3", "-pictures", "0"}
		size["coverage"][0] = "2"
	}
	var out []item
	add := func(name string, env []string, args ...string) {
		out = append(out, item{name: name, steps: []step{args}, env: env, study: true})
	}
	for _, seed := range seeds {
		n := fmt.Sprint(seed)
		if !short {
			add("learnstudy "+n, nil, "learnstudy", n)
			add("broken pictures "+n, []string{"LEADMARK_SEED=" + n},
				append([]string{"brokenstudy"}, size["brokenstudy"]...)...)
		}
		for _, name := range []string{"readstudy", "checkstudy", "loopstudy", "codesearch"} {
			add(name+" "+n, nil, append([]string{name, "-seed", n}, size[name]...)...)
		}
		add("coverage "+n, []string{"COVERAGE_SEED=" + n}, append([]string{"coverage"}, size["coverage"]...)...)
	}
	for _, kind := range []string{"alarms", "trips", "plan"} { // these have one seed
		add("coverage "+kind, nil, "coverage", "4", kind)
	}
	return out
}
