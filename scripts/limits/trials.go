package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
)

// task is what the copy is asked for: frames under a setting.
type task struct {
	Set    string
	Frames []string
}

// removals force each site to what it mostly is, on the frames in which it went the other way, of
// which at most so many are taken: on all others nothing changes. What goes both ways in most frames
// that meet it is at work, and what ends a loop must.
func (r *results) removals(s stored, most int) (tasks []task) {
	for _, v := range r.verdicts(s) {
		if v.rare == 0 || 2*v.rare > v.reached || v.site.Safe || v.site.Loop {
			continue
		}
		how := "no"
		if v.usual {
			how = "yes"
		}
		tasks = append(tasks, task{fmt.Sprintf("F%d=%s", v.id, how), spread(v.frames, most)})
	}
	return tasks
}

// variations vary each limit that is often near by a quarter, either way, on some of the frames in
// which it was near.
func (r *results) variations(s stored, most int) (tasks []task) {
	near := map[int]map[string]bool{}
	for _, v := range r.verdicts(s) {
		if v.site.Safe || v.tally.near() < often {
			continue
		}
		for _, n := range v.site.Of {
			for _, f := range r.seen[v.id][4] {
				if near[n] == nil {
					near[n] = map[string]bool{}
				}
				near[n][f] = true
			}
		}
	}
	for n := range s.Numbers {
		if len(near[n]) == 0 {
			continue
		}
		var frames []string
		for f := range near[n] {
			frames = append(frames, f)
		}
		slices.Sort(frames)
		for _, by := range []string{"0.75", "1.25"} {
			tasks = append(tasks, task{fmt.Sprintf("V%d=%s", n, by), spread(frames, most)})
		}
	}
	return tasks
}

// spread takes so many of a list from all over it, whole runs left out where there is much else.
func spread(list []string, most int) []string {
	light := slices.DeleteFunc(slices.Clone(list), func(f string) bool {
		return strings.HasPrefix(f, "run/") || strings.HasPrefix(f, "knock/")
	})
	if len(light) >= most/2 {
		list = light
	}
	if len(list) <= most {
		return list
	}
	var out []string
	for k := range most {
		out = append(out, list[k*len(list)/most])
	}
	return out
}

func writeTasks(path string, tasks []task) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	defer f.Close()
	for _, t := range tasks {
		data, err := json.Marshal(t)
		if err != nil {
			return err
		}
		if _, err := f.Write(append(data, '\n')); err != nil {
			return err
		}
	}
	return nil
}

// trials prints what the settings changed.
func (r *results) printTrials(w io.Writer, s stored) {
	var sets []string
	for set := range r.trials {
		sets = append(sets, set)
	}
	slices.SortFunc(sets, func(a, b string) int {
		var x, y int
		fmt.Sscanf(a[1:], "%d", &x)
		fmt.Sscanf(b[1:], "%d", &y)
		if a[0] != b[0] {
			return int(a[0]) - int(b[0])
		}
		return x - y
	})
	fmt.Fprintf(w, "\n%-11s %s\n", "set", changeHead)
	for _, set := range sets {
		var k int
		fmt.Sscanf(set[1:], "%d", &k)
		where := ""
		if set[0] == 'F' {
			where = fmt.Sprintf("%s %s: %s", s.Sites[k].At, s.Sites[k].In, s.Sites[k].Text)
		} else {
			where = fmt.Sprintf("%s %s: %s", s.Numbers[k].At, s.Numbers[k].In, s.Numbers[k].Text)
		}
		fmt.Fprintf(w, "%-11s %v %s\n", set, r.changed(set), where)
	}
}
