package storetest

import (
	"errors"
	"fmt"
	"testing"

	"leadmark/calib/input"
	"leadmark/calib/store"
)

// Case is a change of files that is made over and over, each time from the same state.
type Case struct {
	Set   func(t *testing.T, dir string)               // makes the files as they are before
	Do    func(d store.Disk, dir string) error         // changes them
	State func(t *testing.T, dir string) (what string) // what a reader of the program's finds: the old or the new
}

// Every makes each step of a change fail in each way and holds what a reader finds afterwards
// against what was there before and what there is after a change without a fault. It logs every
// point, and checks that the same change can then be made.
func Every(t *testing.T, c Case) {
	t.Helper()
	points, wrong := c.Points(t)
	for _, p := range points {
		t.Log(p)
	}
	t.Logf("%d points", len(points))
	for _, w := range wrong {
		t.Error(w)
	}
}

// Points is Every that returns what it finds: a line for every point, and what is wrong.
func (c Case) Points(t *testing.T) (points, wrong []string) {
	t.Helper()
	before := t.TempDir()
	c.Set(t, before)
	counted := New(0, None)
	after, err := c.run(t, counted)
	if err != nil {
		t.Fatalf("without a fault: %v", err)
	}
	old, changed := c.State(t, before), c.State(t, after)
	if what := c.cut(t, counted, after, changed); what != "" {
		wrong = append(wrong, "the power cut when all is done: "+what)
	}
	if old == changed {
		t.Fatal("the change changes nothing")
	}
	name := map[string]string{old: "the old", changed: "the new"}
	for i, step := range counted.Steps() {
		for _, fault := range Faults() {
			d := New(i+1, fault)
			dir, err := c.run(t, d)
			found := c.State(t, dir)
			point := fmt.Sprintf("%2d  %-46s %-18s -> %s", i+1, step, fault, name[found])
			points = append(points, point)
			if what := c.judge(d, err, found, name[found]); what != "" {
				wrong = append(wrong, point+": "+what)
			}
			if err == nil {
				if what := c.cut(t, d, dir, changed); what != "" {
					wrong = append(wrong, point+": it was said to be done, then the power was cut: "+what)
				}
			}
			if err := c.Do(store.System(), dir); err != nil {
				wrong = append(wrong, fmt.Sprintf("%s: afterwards the change cannot be made: %v", point, err))
			}
		}
	}
	return points, wrong
}

// cut takes the power away after a change that was said to be done: what was not synced is lost, and
// the new must be there all the same.
func (c Case) cut(t *testing.T, d *Disk, dir, changed string) string {
	t.Helper()
	if d.dead {
		return ""
	}
	d.Forget()
	if found := c.State(t, dir); found != changed {
		return "found is\n" + found
	}
	return ""
}

func (c Case) run(t *testing.T, d *Disk) (dir string, err error) {
	t.Helper()
	dir = t.TempDir()
	c.Set(t, dir)
	return dir, c.Do(d, dir)
}

// judge says what is wrong after a fault; "" for nothing. A message names the file and what to do.
func (c Case) judge(d *Disk, err error, found, name string) string {
	var known *input.Error
	switch {
	case !d.Failed():
		return "the step was not reached again"
	case name == "":
		return "neither the old nor the new:\n" + found
	case d.dead:
		return ""
	case err == nil && name == "the old":
		return "no error was told, and the old is there"
	case err != nil && (!errors.As(err, &known) || known.File == "" || known.Hint == ""):
		return fmt.Sprintf("an error that does not say which file and what to do: %v", err)
	}
	return ""
}
