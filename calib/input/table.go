package input

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// Table is a CSV file with a header line, its cells found by the columns' names.
type Table struct {
	name    string
	columns map[string]int
	Rows    []Row
}

// Row is one line of a table.
type Row struct {
	Line  int // in the file, counted from 1
	cells []string
}

// maxRows bounds a table: more frames than anyone takes in one go.
const maxRows = 100_000

// ReadTable reads a CSV file (RFC 4180) of the known columns; those in need must be there.
// A byte order mark, CRLF, blank lines, lines that begin with #, and columns whose header begins
// with # are allowed and skipped.
func ReadTable(name string, text []byte, known, need []string) (*Table, error) {
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	if !utf8.Valid(text) {
		return nil, &Error{File: name, What: "is not UTF-8 text", Hint: "save it as CSV, UTF-8"}
	}
	c := csv.NewReader(bytes.NewReader(text))
	c.Comment, c.TrimLeadingSpace, c.FieldsPerRecord = '#', true, -1
	header, err := c.Read()
	if errors.Is(err, io.EOF) {
		return nil, &Error{File: name, What: "has no header line",
			Hint: "the first line names the columns, such as " + strings.Join(known, ",")}
	}
	if err != nil {
		return nil, csvFault(name, err)
	}
	line, _ := c.FieldPos(0)
	t := &Table{name: name, columns: map[string]int{}}
	if err := t.header(line, header, known, need); err != nil {
		return nil, err
	}
	return t, t.body(c, len(header))
}

func (t *Table) header(line int, header, known, need []string) error {
	var wrong List
	if len(header) == 1 && strings.ContainsAny(header[0], ";\t") {
		return &Error{File: t.name, Line: line, What: "the columns are not separated by commas",
			Hint: "save it as CSV with commas between the columns and points in the numbers"}
	}
	for i, h := range header {
		h = strings.TrimSpace(h)
		if _, twice := t.columns[h]; twice {
			wrong.Add(&Error{File: t.name, Line: line, Column: h, What: "is there twice"})
		}
		if strings.HasPrefix(h, "#") || h == "" && i == len(header)-1 {
			continue
		}
		if !slices.Contains(known, h) {
			if wrong.full() {
				wrong.more++
				continue
			}
			wrong.Add(unknownColumn(t.name, line, h, known))
			continue
		}
		t.columns[h] = i
	}
	if len(wrong.list) == 0 {
		for _, n := range need {
			if _, there := t.columns[n]; !there {
				wrong.Add(&Error{File: t.name, Line: line, Column: n, What: "is missing",
					Hint: "the header line names the columns: " + strings.Join(known, ",")})
			}
		}
	}
	return wrong.Err(t.name)
}

func unknownColumn(name string, line int, column string, known []string) *Error {
	e := &Error{File: name, Line: line, Column: fmt.Sprintf("%q", shortened(column)), What: "is not known"}
	if want, unit := sameQuantity(column, known); want != "" {
		e.What, e.Hint = "this is given in "+unit, "call the column "+want+" and give "+unit
	} else if want := Nearest(column, known); want != "" {
		e.Hint = "the nearest known column is " + want
	} else {
		e.Hint = "known columns: " + strings.Join(known, ", ") + "; a column of your own begins with #"
	}
	return e
}

func (t *Table) body(c *csv.Reader, width int) error {
	for {
		cells, err := c.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return csvFault(t.name, err)
		}
		line, _ := c.FieldPos(0)
		blank := strings.TrimSpace(strings.Join(cells, "")) == ""
		switch {
		case blank:
			continue
		case len(cells) > width:
			return &Error{File: t.name, Line: line,
				What: fmt.Sprintf("has %d cells, but the header names %d columns", len(cells), width),
				Hint: "decimals are written with a point; put a cell that holds a comma in double quotes"}
		case len(t.Rows) == maxRows:
			return &Error{File: t.name, Line: line, What: fmt.Sprintf("has more than %d lines", maxRows)}
		}
		t.Rows = append(t.Rows, Row{line, cells})
	}
}

func csvFault(name string, err error) error {
	var p *csv.ParseError
	if errors.As(err, &p) {
		return &Error{File: name, Line: p.Line, What: "is not well-formed CSV", Err: p.Err,
			Hint: "look at the double quotes on this line"}
	}
	return &Error{File: name, What: "cannot be read", Err: err}
}

// Cell returns a cell without blanks around it; "" where the column or the cell is not there.
func (t *Table) Cell(r Row, column string) string {
	i, ok := t.columns[column]
	if !ok || i >= len(r.cells) {
		return ""
	}
	return strings.TrimSpace(r.cells[i])
}

// Number reads a cell into to, which keeps its value where the cell is empty.
func (t *Table) Number(r Row, column string, scale float64, b Bounds, to *float64) *Error {
	text := t.Cell(r, column)
	if text == "" {
		return nil
	}
	x, err := ParseNumber(text)
	if err != nil {
		return t.Fault(r, column, err.Error(), "")
	}
	if what := b.Check(x); what != "" {
		return t.Fault(r, column, what, "check the value and its unit")
	}
	*to = x * scale
	return nil
}

// Fault is an error about a cell.
func (t *Table) Fault(r Row, column, what, hint string) *Error {
	return &Error{File: t.name, Line: r.Line, Column: column, What: what, Hint: hint}
}
