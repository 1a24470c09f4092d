package runfile

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"leadmark/calib/input"
	"leadmark/calib/store"
	"leadmark/fit/unit"
)

// ShotCells are what a line of shots.csv states of a shot, in the units of the file; nil and "" for
// an empty cell.
type ShotCells struct {
	DropMM, SpeedMPS, DelayMS *float64
	Group                     string
}

// Empty reports whether nothing is stated.
func (c ShotCells) Empty() bool {
	return c.DropMM == nil && c.SpeedMPS == nil && c.DelayMS == nil && c.Group == ""
}

// AddShots adds a line to shots.csv for each of the frames that it does not list, made where there
// is none. What is there stays as it is, byte for byte; the file is replaced in one step. added
// names the frames that got a line.
func AddShots(ctx context.Context, dir string, m Method, frames []string, c ShotCells) (added []string, err error) {
	unlock, err := store.Lock(ctx, dir)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, unlock()) }()
	path := filepath.Join(dir, ShotsFileName)
	text, err := readOptional(path, maxTable)
	if err != nil {
		return nil, err
	}
	if text == nil {
		text = []byte(csvLine(newColumns(m)))
	}
	run := Run{Method: m}
	listed, err := ParseShots(path, text, run)
	if err != nil {
		return nil, err
	}
	columns, err := columnsOf(path, text)
	if err != nil {
		return nil, err
	}
	if len(text) > 0 && text[len(text)-1] != '\n' {
		text = append(text, '\n')
	}
	for _, name := range frames {
		if slices.ContainsFunc(listed, func(s ShotEntry) bool { return s.Frame == name }) {
			continue
		}
		line, err := shotLine(path, columns, name, c)
		if err != nil {
			return nil, err
		}
		text, added = append(text, line...), append(added, name)
	}
	if len(added) == 0 {
		return nil, nil
	}
	if _, err := ParseShots(path, text, run); err != nil {
		return nil, err
	}
	return added, store.Replace(store.System(), path, text)
}

func newColumns(m Method) []string {
	if m == Push {
		return []string{"frame", "speed_mps", "delay_ms", "group", "use", "why"}
	}
	return []string{"frame", "drop_mm", "delay_ms", "use", "why"}
}

// columnsOf are the columns of a table as its header names them.
func columnsOf(path string, text []byte) ([]string, error) {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	r.FieldsPerRecord, r.Comment = -1, '#'
	columns, err := r.Read()
	if err != nil {
		return nil, &input.Error{File: path, What: "has no header line",
			Hint: "begin it with: frame,drop_mm,delay_ms,use,why"}
	}
	for i := range columns {
		columns[i] = strings.TrimSpace(columns[i])
	}
	return columns, nil
}

// shotLine is one line of the table; a value for which it has no column is an *input.Error.
func shotLine(path string, columns []string, name string, c ShotCells) (string, error) {
	cells := make([]string, len(columns))
	put := func(column, value string) error {
		if value == "" {
			return nil
		}
		i := slices.Index(columns, column)
		if i < 0 {
			return &input.Error{File: path, What: fmt.Sprintf("has no column %s", column),
				Hint: "add it to the header line"}
		}
		cells[i] = value
		return nil
	}
	number := func(x *float64) string {
		if x == nil {
			return ""
		}
		return unit.Decimal(*x)
	}
	err := errors.Join(put("frame", name), put("drop_mm", number(c.DropMM)), put("speed_mps", number(c.SpeedMPS)),
		put("delay_ms", number(c.DelayMS)), put("group", c.Group))
	return csvLine(cells), err
}
