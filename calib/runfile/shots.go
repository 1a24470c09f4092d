package runfile

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"leadmark/calib/input"
	"leadmark/vision/frame"
)

// shotColumns are the columns of shots.csv.
func shotColumns() []string {
	return []string{"frame", "drop_mm", "speed_mps", "delay_ms", "group", "use", "why"}
}

// ParseShots reads the text of shots.csv. An empty cell takes the run's default, columns stand in
// any order. The name is the one that errors give the file.
func ParseShots(name string, text []byte, r Run) ([]ShotEntry, error) {
	t, err := readTable(name, text, shotColumns(), []string{"frame"})
	if err != nil {
		return nil, err
	}
	shots := make([]ShotEntry, 0, len(t.Rows))
	var wrong input.List
	first := map[string]int{}
	for _, row := range t.Rows {
		s, faults := t.shot(row, r.Defaults, r.Method)
		for _, f := range faults {
			wrong.Add(f)
		}
		if line, twice := first[s.Frame]; twice && s.Frame != "" {
			wrong.Add(t.Fault(row, "frame", fmt.Sprintf("%s is named twice, first on line %d", s.Frame, line),
				"keep one of the two lines"))
		}
		first[s.Frame] = row.Line
		shots = append(shots, s)
	}
	return shots, wrong.Err(name)
}

// shot reads one line; an empty cell keeps the default.
func (t table) shot(r input.Row, defaults Conditions, m Method) (ShotEntry, []*input.Error) {
	s := ShotEntry{Frame: t.Cell(r, "frame"), Line: r.Line, Use: true, Why: oneLine(t.Cell(r, "why")),
		Conditions: defaults}
	var wrong []*input.Error
	add := func(e *input.Error) {
		if e != nil {
			wrong = append(wrong, e)
		}
	}
	switch {
	case s.Frame == "":
		add(t.Fault(r, "frame", "is empty", "name the frame's file"))
	case strings.ContainsAny(s.Frame, `/\`) || s.Frame == ".." || strings.ContainsFunc(s.Frame, unicode.IsControl):
		add(t.Fault(r, "frame", fmt.Sprintf("%q is not a file name", s.Frame),
			"give the name without a folder before it"))
	}
	add(t.Number(r, "drop_mm", 1e-3, dropRange(), &s.Drop))
	add(t.Number(r, "speed_mps", 1, speedRange(), &s.Speed))
	add(t.Number(r, "delay_ms", 1e-3, delayRange(), &s.Delay))
	group := oneLine(t.Cell(r, "group"))
	if group != "" {
		s.Group = group
	}
	has := func(column string) bool { return t.Cell(r, column) != "" }
	s.Stated = Stated{Drop: has("drop_mm"), Speed: has("speed_mps"), Delay: has("delay_ms"), Group: group != ""}
	switch use := t.Cell(r, "use"); strings.ToLower(use) {
	case "", "yes":
	case "no":
		s.Use = false
	default:
		add(t.Fault(r, "use", fmt.Sprintf("is %q; it is yes or no", use), "put the reason in the column why"))
	}
	add(t.contradiction(r, s, m))
	return s, wrong
}

// oneLine turns line ends and other control characters, which a spreadsheet leaves inside cells,
// into blanks.
func oneLine(text string) string {
	plain := strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, text)
	return strings.Join(strings.Fields(plain), " ")
}

// contradiction finds conditions that do not belong to the method.
func (t table) contradiction(r input.Row, s ShotEntry, m Method) *input.Error {
	switch {
	case m == Drop && s.Speed != 0:
		return t.Fault(r, "speed_mps", "is stated, but method is drop",
			`a drop's speed follows from drop_mm; or write method = "push" in run.toml`)
	case m == Drop && s.Group != "":
		return t.Fault(r, "group", "is stated, but method is drop",
			"groups join pushes at one unknown speed; heights make their own groups")
	case m == Push && s.Drop != 0:
		return t.Fault(r, "drop_mm", "is stated, but method is push",
			`a push has a speed_mps; or write method = "drop" in run.toml`)
	case s.Group != "" && s.Speed != 0:
		return t.Fault(r, "group", "and a measured speed are both stated",
			"a group joins shots at one unknown speed: leave out the group or speed_mps")
	}
	return nil
}

// checkPresent finds listed frames that the folder lacks.
func (r Run) checkPresent(name string) error {
	entries, err := os.ReadDir(r.Dir)
	if err != nil {
		return &input.Error{File: r.Dir, What: "cannot be looked into", Err: err}
	}
	there, folded := map[string]bool{}, map[string]string{}
	for _, e := range entries {
		there[e.Name()] = true
		folded[strings.ToLower(e.Name())] = e.Name()
	}
	over := frame.PassedOver(entries)
	var wrong input.List
	for _, s := range r.Shots {
		if other := over[s.Frame]; other != "" {
			wrong.Add(&input.Error{File: name, Line: s.Line, Column: "frame",
				What: fmt.Sprintf("%s is passed over: %s, the same photograph, is read in its place", s.Frame,
					other), Hint: "list " + other})
			continue
		}
		if there[s.Frame] {
			continue
		}
		e := &input.Error{File: name, Line: s.Line, Column: "frame",
			What: s.Frame + " is not in the folder " + filepath.Clean(r.Dir),
			Hint: "copy the frame there, or take the line out"}
		if near := folded[strings.ToLower(s.Frame)]; near != "" {
			e.Hint = "the folder has " + near
		}
		wrong.Add(e)
	}
	return wrong.Err(name)
}

// Stated says which conditions a line of shots.csv states itself, not by run.toml's default.
type Stated struct{ Drop, Speed, Delay, Group bool }
