package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// came is what became of a frame, as the copy tells it: pass.go.txt has the same.
type came struct {
	Set, Frame, Text, Print string
	Read, Readable, Wrong   int
	Front, Errors           []float64
	Sites                   string
}

// tally is how a site went, as limitlog has it.
type tally struct {
	True, False int
	Near        [6]int
}

func (t tally) all() int { return t.True + t.False }

// near is the share of times that the two sides were within a quarter of each other.
func (t tally) near() float64 { return float64(t.Near[0]+t.Near[1]) / float64(max(1, t.all())) }

// results are what a pass came to.
type results struct {
	frames  map[string]came   // as the tree stands
	trials  map[string][]came // by what was set
	tallies []tally
	seen    []map[uint8][]string // by the site: frames in which it went so, by bits: 1 true, 2 false, 4 near
}

// read reads what passes wrote.
func read(work string, sites int) (*results, error) {
	r := &results{frames: map[string]came{}, trials: map[string][]came{}, tallies: make([]tally, sites)}
	for range sites {
		r.seen = append(r.seen, map[uint8][]string{})
	}
	files, err := filepath.Glob(filepath.Join(work, "out*.json"))
	if err != nil {
		return nil, err
	}
	for _, name := range files {
		if err := r.add(name); err != nil {
			return nil, err
		}
		if data, err := os.ReadFile(name + ".tally"); err == nil && !strings.Contains(name, "trials") {
			var list []tally
			if err := json.Unmarshal(data, &list); err != nil {
				return nil, err
			}
			for i, t := range list[:min(len(list), sites)] {
				r.tallies[i].True += t.True
				r.tallies[i].False += t.False
				for k, n := range t.Near {
					r.tallies[i].Near[k] += n
				}
			}
		}
	}
	return r, nil
}

func (r *results) add(name string) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	in := bufio.NewScanner(f)
	in.Buffer(nil, 64<<20)
	for in.Scan() {
		var c came
		if err := json.Unmarshal(in.Bytes(), &c); err != nil {
			return err
		}
		if c.Set != "" {
			r.trials[c.Set] = append(r.trials[c.Set], c)
			continue
		}
		for _, w := range strings.Fields(c.Sites) {
			id, bits, _ := strings.Cut(w, ":")
			k, err := strconv.Atoi(id)
			if err != nil || k >= len(r.seen) {
				continue
			}
			for _, b := range []uint8{1, 2, 4} {
				if (bits[0]-'0')&b != 0 {
					r.seen[k][b] = append(r.seen[k][b], c.Frame)
				}
			}
		}
		c.Sites = ""
		r.frames[c.Frame] = c
	}
	return in.Err()
}

// change is what a setting, or another tree, changed on the same frames.
type change struct {
	frames, changed int
	lost, won       int        // readings
	worse, better   int        // what is false in them
	errors, fronts  [2]float64 // before and after, of those in both: errors over u squared, px
	examples        []string
}

// add compares what came of one frame.
func (c *change) add(was, now came) {
	if c.frames++; was.Print == now.Print && was.Text == now.Text {
		return
	}
	c.changed++
	c.lost, c.won = c.lost+max(0, was.Read-now.Read), c.won+max(0, now.Read-was.Read)
	c.worse, c.better = c.worse+max(0, now.Wrong-was.Wrong), c.better+max(0, was.Wrong-now.Wrong)
	if strings.HasPrefix(now.Text, "PANIC") {
		c.worse++
	}
	if len(was.Errors) == len(now.Errors) {
		c.errors[0], c.errors[1] = c.errors[0]+squares(was.Errors), c.errors[1]+squares(now.Errors)
	}
	if len(was.Front) == len(now.Front) && len(was.Front) > 0 {
		c.fronts[0], c.fronts[1] = c.fronts[0]+math.Abs(was.Front[0]), c.fronts[1]+math.Abs(now.Front[0])
	}
	c.examples = append(c.examples, now.Frame)
}

func squares(v []float64) (sum float64) {
	for _, x := range v {
		sum += x * x
	}
	return sum
}

// changed is what a setting changed.
func (r *results) changed(set string) (c change) {
	for _, now := range r.trials[set] {
		c.add(r.frames[now.Frame], now)
	}
	return c
}

// against is what became of the frames in another pass.
func (r *results) against(now *results) (c change) {
	for _, name := range slices.Sorted(maps.Keys(now.frames)) {
		if was, is := r.frames[name]; is {
			c.add(was, now.frames[name])
		}
	}
	return c
}

// word says what came of it.
func (c change) word() string {
	bad, good := c.lost > c.won || c.worse > c.better, c.won > c.lost || c.better > c.worse
	switch {
	case bad && good:
		return "MIXED"
	case bad:
		return "WORSE"
	case good:
		return "BETTER"
	case c.changed > 0:
		return "moved"
	}
	return "same"
}

// ratio is after over before; 1 where there is nothing.
func ratio(v [2]float64) float64 {
	if v[0] <= 0 {
		return 1
	}
	return v[1] / v[0]
}

const changeHead = " frames  changed  lost   won false+  false-   err/u   front"

func (c change) String() string {
	return fmt.Sprintf("%7d %8d %5d %5d %6d %7d %7.2f %7.2f  %-6s", c.frames, c.changed, c.lost, c.won, c.worse, c.better,
		math.Sqrt(ratio(c.errors)), ratio(c.fronts), c.word())
}
