package runfile

import (
	"fmt"
	"path/filepath"
	"strconv"

	"leadmark/calib/input"
	"leadmark/fit/design"
	"leadmark/fit/unit"
	"leadmark/vision/frame"
)

// Known is what is known of the frames of a run that is being started, besides their files.
type Known struct {
	Slates map[string]SlateSeen // symbols found, by the frames' names; nil where nobody looked
	Plan   *design.Schedule     // what was to be shot; nil where nothing was planned
}

// Sketch is a run as far as the overrides, and a run.toml in dir if there is one, describe it:
// enough to plan by. Neither folder nor run.toml need be there; a method that nobody states is
// drop.
func Sketch(dir string, o Overrides) (Run, error) {
	name := filepath.Join(dir, RunFileName)
	text, err := readOptional(name, maxRunFile)
	if err != nil {
		return Run{}, err
	}
	if _, given := o.Value("method"); text == nil && !given {
		o = o.with("method", string(Drop))
	}
	o.ByHand = true // the pictures need not be described
	run, err := parseRun(name, text, o)
	run.Digest, run.Settings = input.Digest(text, o.Text()), o.Values()
	return run, err
}

// fillFromPlan writes the planned conditions beside the frames that no slate speaks of, in the
// order of shooting, and returns what of the plan no frame was left for.
func (c *startCells) fillFromPlan(frames []frame.Frame, s design.Schedule) (left []design.Batch) {
	list := shootingOrder(s)
	at := 0
	c.all = true
	for _, f := range frames {
		if _, slate := c.remarks[f.Name]; slate {
			continue
		}
		if at == len(list) {
			c.all = c.all && len(c.cells[f.Name]) > 0
			continue
		}
		if len(c.cells[f.Name]) == 0 {
			c.cells[f.Name] = batchCells(list[at])
		}
		at++
	}
	c.planned = len(list) > 0
	if c.planned && c.method == "" {
		c.method = Push
		if list[0].Drop > 0 {
			c.method = Drop
		}
	}
	for _, b := range list[at:] {
		if n := len(left); n > 0 && sameSetting(left[n-1], b) {
			left[n-1].Shots++
			continue
		}
		left = append(left, b)
	}
	return left
}

// shootingOrder lists the single shots of a plan: those of the first stage, then the others.
func shootingOrder(s design.Schedule) []design.Batch {
	var list []design.Batch
	staged := make([]int, len(s.Batches))
	add := func(b design.Batch, n int) {
		b.Shots = 1
		for range n {
			list = append(list, b)
		}
	}
	for _, b := range s.Stage {
		add(b, b.Shots)
		for i := range s.Batches {
			if sameSetting(s.Batches[i], b) {
				staged[i] += b.Shots
				break
			}
		}
	}
	for i, b := range s.Batches {
		add(b, max(b.Shots-staged[i], 0))
	}
	return list
}

func sameSetting(a, b design.Batch) bool {
	return a.Drop == b.Drop && a.Speed == b.Speed && a.Group == b.Group && a.Delay == b.Delay
}

// batchCells are a planned shot's conditions as cells of shots.csv.
func batchCells(b design.Batch) map[string]string {
	number := func(x float64) string { return strconv.FormatFloat(unit.Stated(x), 'f', -1, 64) }
	cells := map[string]string{"group": b.Group}
	if b.Drop > 0 {
		cells["drop_mm"] = number(b.Drop * 1e3)
	}
	if b.Speed > 0 {
		cells["speed_mps"] = number(b.Speed)
	}
	if b.Delay != 0 {
		cells["delay_ms"] = number(b.Delay * 1e3)
	}
	return cells
}

// planRemarks are comment lines for what of the plan no frame was left for.
func planRemarks(left []design.Batch) []string {
	var lines []string
	for _, b := range left {
		c := batchCells(b)
		line := fmt.Sprintf("# still to shoot, as planned: %d x", b.Shots)
		for _, key := range []string{"drop_mm", "speed_mps", "group", "delay_ms"} {
			if c[key] != "" {
				line += " " + key + " " + oneLine(c[key])
			}
		}
		lines = append(lines, line)
	}
	return lines
}
