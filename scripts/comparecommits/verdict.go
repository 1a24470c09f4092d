package main

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"
)

// verdict is how an item came out.
type verdict struct {
	name          string
	written, same int // files that the programs wrote, and of them the same on both sides
	tables        int // of those written: CSV
	inputs        int // files that were there before and are the same on both sides
	leftOut       int // values and files left out by name
	files         []fileDifference
	notes         []string
}

type fileDifference struct {
	file string
	list []difference
}

func presence(err error) string {
	if err != nil {
		return absent
	}
	return "(there)"
}

func (v *verdict) add(file string, list []difference, leftOut int) {
	v.written++
	v.leftOut += leftOut
	if filepath.Ext(file) == ".csv" {
		v.tables++
	}
	if len(list) == 0 {
		v.same++
		return
	}
	v.files = append(v.files, fileDifference{file, list})
}

// look notes what failed on both sides alike, so that it does not pass for compared.
func (v *verdict) look(file string, base, head []byte) {
	if filepath.Ext(file) != ".status" || !bytes.Equal(base, head) || string(base) == "exit status 0" {
		return
	}
	v.notes = append(v.notes, fmt.Sprintf("%s: %s on both sides",
		strings.TrimSuffix(filepath.Base(file), ".status"), base))
}

// tell prints all verdicts and says whether nothing differs.
func tell(w io.Writer, list []verdict, most int) (same bool) {
	files, differing, worst, at := 0, 0, 0.0, ""
	for _, v := range list {
		v.tell(w, most)
		files, differing = files+v.written, differing+len(v.files)
		for _, f := range v.files {
			for _, d := range f.list {
				if math.Abs(d.units) > worst {
					worst, at = math.Abs(d.units), v.name+" "+f.file+" "+d.String()
				}
			}
		}
	}
	fmt.Fprintf(w, "\n%d files compared, %d differ\n", files, differing)
	if at != "" {
		fmt.Fprintf(w, "farthest: %s\n", at)
	}
	return differing == 0
}

func (v verdict) tell(w io.Writer, most int) {
	fmt.Fprintf(w, "%-22s %3d files written (%d of them CSV), %3d the same", v.name, v.written, v.tables, v.same)
	if v.inputs > 0 {
		fmt.Fprintf(w, "; %d given ones untouched", v.inputs)
	}
	if v.leftOut > 0 {
		fmt.Fprintf(w, "; %d values or files left out", v.leftOut)
	}
	fmt.Fprintln(w)
	for _, note := range v.notes {
		fmt.Fprintln(w, "  note:", note)
	}
	figuresLast := func(a, b fileDifference) int { return rank(a.file) - rank(b.file) }
	for _, f := range slices.SortedStableFunc(slices.Values(v.files), figuresLast) {
		fmt.Fprintf(w, "  %s: %d\n", f.file, len(f.list))
		for i, d := range f.list {
			if most > 0 && i == most {
				fmt.Fprintf(w, "    ... and %d more (--most 0 shows all)\n", len(f.list)-most)
				break
			}
			fmt.Fprintln(w, "    "+strings.ReplaceAll(d.String(), "\n", " "))
		}
	}
}

// rank puts the documents that say what changed before the pages and figures that show it.
func rank(file string) int {
	switch filepath.Ext(file) {
	case ".json", ".csv", ".jsonl", ".status":
		return 0
	case ".html", ".svg", ".png":
		return 2
	}
	return 1
}
