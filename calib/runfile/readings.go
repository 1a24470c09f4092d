package runfile

import (
	"errors"
	"fmt"
	"io/fs"

	"leadmark/calib/input"
)

// HandReading is one advance that was read elsewhere.
type HandReading struct {
	ShotEntry
	Read    bool    // false where the cell is empty: the frame could not be read
	Advance float64 // m
	U       float64 // m, standard uncertainty of the reading alone
}

// Readings is a table of advances that were read elsewhere.
type Readings struct {
	List   []HandReading
	Digest string // SHA-256 of the table's bytes, hex
}

// LoadReadings reads a table of advances: the columns frame, advance_mm and u_mm and any of
// shots.csv. A cell that is empty, or a column that is not there, takes the value of shots.csv,
// else of run.toml. What is wrong is an *input.Error.
func LoadReadings(path string, run Run) (Readings, error) {
	text, err := input.ReadBounded(path, maxTable)
	if errors.Is(err, fs.ErrNotExist) {
		return Readings{}, &input.Error{File: path, What: "there is no such file",
			Hint: "give a CSV file with the columns frame,advance_mm,u_mm"}
	}
	if err != nil {
		return Readings{}, err
	}
	list, err := ParseReadings(path, text, run)
	return Readings{List: list, Digest: input.Digest(text)}, err
}

// ParseReadings reads the text of a table of advances; the name is the one that errors give it.
func ParseReadings(name string, text []byte, run Run) ([]HandReading, error) {
	known := append([]string{"frame", "advance_mm", "u_mm"}, shotColumns()[1:]...)
	t, err := readTable(name, text, known, []string{"frame", "advance_mm", "u_mm"})
	if err != nil {
		return nil, err
	}
	var wrong input.List
	var list []HandReading
	first := map[string]int{}
	listed := run.Listed()
	for _, row := range t.Rows {
		h, faults := t.reading(row, run, listed)
		for _, f := range faults {
			wrong.Add(f)
		}
		if line, twice := first[h.Frame]; twice && h.Frame != "" {
			wrong.Add(t.Fault(row, "frame", fmt.Sprintf("%s is named twice, first on line %d", h.Frame, line),
				"keep one of the two lines"))
		}
		first[h.Frame] = row.Line
		list = append(list, h)
	}
	return list, wrong.Err(name)
}

func (t table) reading(r input.Row, run Run, listed map[string]ShotEntry) (HandReading, []*input.Error) {
	defaults := run.Defaults
	earlier, is := listed[t.Cell(r, "frame")]
	if is {
		defaults = earlier.Conditions
	}
	shot, wrong := t.shot(r, defaults, run.Method)
	h := HandReading{ShotEntry: shot}
	if is && t.Cell(r, "use") == "" {
		h.Use = earlier.Use
	}
	if h.Why == "" {
		h.Why = earlier.Why
	}
	if t.Cell(r, "advance_mm") == "" {
		return h, wrong
	}
	h.Read = true
	if f := t.Number(r, "advance_mm", 1e-3, input.Between(-1e5, 1e5), &h.Advance); f != nil {
		wrong = append(wrong, f)
	}
	f := t.Number(r, "u_mm", 1e-3, input.Between(0, 1e4), &h.U)
	if f == nil && t.Cell(r, "u_mm") == "" {
		f = t.Fault(r, "u_mm", "is empty", "state the standard uncertainty of the reading in millimetres; "+
			"about 0.3 of the smallest step that was read")
	}
	if f != nil {
		wrong = append(wrong, f)
	}
	return h, wrong
}
