package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// rules say what of two files is left out when they are compared.
type rules struct {
	leaveOut []string
	from, to time.Time   // of the comparison: times between are left out
	own      [2][]string // texts of each side's own, such as the folder it stands in
	study    bool        // what a study prints: durations are left out
}

// compare lists in what two files differ, after what is left out. The second value counts what was
// left out by name.
func (r rules) compare(name string, base, head []byte) ([]difference, int) {
	base, head = r.mask(base, 0), r.mask(head, 1)
	if path.Ext(name) == ".pdf" {
		base, head = unordered(base), unordered(head)
	}
	if bytes.Equal(base, head) {
		return nil, 0
	}
	if read := reader(name, base); read != nil {
		a, err := read(base, r.leaveOut)
		b, err2 := read(head, r.leaveOut)
		if err == nil && err2 == nil {
			out := differences(a, b)
			if leftOut := a.leftOut + b.leftOut; len(out) > 0 || leftOut > 0 {
				return out, leftOut
			}
		}
	}
	if !utf8.Valid(base) || !utf8.Valid(head) {
		return []difference{binary(base, head)}, 0
	}
	return lines(string(base), string(head)), 0
}

func reader(name string, data []byte) func([]byte, []string) (document, error) {
	switch {
	case path.Ext(name) == ".csv":
		return readCSV
	case path.Ext(name) == ".json", path.Ext(name) == ".jsonl", path.Ext(name) == ".stdout" &&
		bytes.HasPrefix(data, []byte("{")):
		return readJSON
	}
	return nil
}

// mask takes out what a side's run alone decides, as does the page's digest of the program's own
// file. A picture inside a page stands for its digest from here on.
func (r rules) mask(data []byte, side int) []byte {
	for _, own := range r.own[side] {
		if own != "" {
			data = bytes.ReplaceAll(data, []byte(own), []byte("(own)"))
		}
	}
	data = regexp.MustCompile(`base64,[A-Za-z0-9+/=]+`).ReplaceAllFunc(data, func(b []byte) []byte {
		return fmt.Appendf(nil, "picture:%x", sha256.Sum256(b))
	})
	data = regexp.MustCompile(`(name="leadmark-made-from" content=")[0-9a-f]+`).ReplaceAll(data, []byte("$1"))
	if r.study {
		data = durations().ReplaceAll(data, []byte("(left out)"))
	}
	return r.times(data)
}

// unordered is a PDF with its lines sorted, without the numbers and places of its objects: chance
// decides which of its fonts comes first.
func unordered(pdf []byte) []byte {
	pdf = regexp.MustCompile(`(?m)^(/F[0-9a-f]+) \d+ 0 R$`).ReplaceAll(pdf, []byte("$1"))
	pdf = regexp.MustCompile(`(?m)^\d{10} \d{5} n`).ReplaceAll(pdf, nil)
	parts := bytes.Split(pdf, []byte("\n"))
	slices.SortFunc(parts, bytes.Compare)
	return bytes.Join(parts, []byte("\n"))
}

// durations are what no two runs of a study have in common, with the line of the test that prints.
func durations() *regexp.Regexp {
	return regexp.MustCompile(`(?m)[\d.]+ s on \d+ processors|\([\d.]+s\)|^(ok|FAIL)\s+\S+\s+[\d.]+s$|\w+_test\.go:\d+|\d+ MB at most`)
}

// times takes out the times between start and end of the comparison, in all the ways that the
// program writes them; it rounds to the second, up too.
func (r rules) times(data []byte) []byte {
	months := `(?:January|February|March|April|May|June|July|August|September|October|November|December)`
	for _, k := range []struct {
		pattern, layout string
		step            time.Duration
	}{
		{`\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d+)?(?:Z|[+-]\d\d:\d\d)`, time.RFC3339, time.Second},
		{`\d{4}-\d\d-\d\d \d\d:\d\d:\d\d`, time.DateTime, time.Second},
		{`\d{4}-\d\d-\d\d \d\d:\d\d`, "2006-01-02 15:04", time.Minute},
		{`\d{1,2} ` + months + ` \d{4}, \d\d:\d\d`, "2 January 2006, 15:04", time.Minute},
		{`\d{1,2} ` + months + ` \d{4} \d\d:\d\d`, "2 January 2006 15:04", time.Minute},
		{`D:\d{14}`, "D:20060102150405", time.Second},
		{`\d{4}-\d\d-\d\d`, time.DateOnly, 24 * time.Hour},
	} {
		data = regexp.MustCompile(k.pattern).ReplaceAllFunc(data, func(b []byte) []byte {
			t, err := time.Parse(k.layout, string(b))
			if err != nil || t.Before(r.from.Truncate(k.step)) || t.After(r.to.Add(time.Second)) {
				return b
			}
			return []byte("(now)")
		})
	}
	return data
}

// binary says where two files that are no text part.
func binary(base, head []byte) difference {
	at := 0
	for at < min(len(base), len(head)) && base[at] == head[at] {
		at++
	}
	return apart(fmt.Sprintf("from byte %d on", at), fmt.Sprintf("%d bytes", len(base)),
		fmt.Sprintf("%d bytes", len(head)))
}

// lines compares texts line by line. Where one has more lines than the other, those between the
// first and the last line that differ are taken as gone and come.
func lines(base, head string) []difference {
	a, b := strings.SplitAfter(base, "\n"), strings.SplitAfter(head, "\n")
	first := 0
	for first < min(len(a), len(b)) && a[first] == b[first] {
		first++
	}
	a, b = a[first:], b[first:]
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	var out []difference
	if len(a) == len(b) {
		for i := range a {
			out = append(out, line(first+i+1, a[i], b[i])...)
		}
		return out
	}
	for i, s := range a {
		out = append(out, apart(fmt.Sprintf("line %d", first+i+1), excerpt(s, 0), absent))
	}
	for i, s := range b {
		out = append(out, apart(fmt.Sprintf("line %d", first+i+1), absent, excerpt(s, 0)))
	}
	return out
}

// line lists the numbers in which two lines differ, or where they part if they differ in words too.
func line(n int, a, b string) []difference {
	if a == b {
		return nil
	}
	number := regexp.MustCompile(`-?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?`)
	words := func(s string) string { return strings.Join(strings.Fields(number.ReplaceAllString(s, "0")), " ") }
	if words(a) == words(b) {
		var out []difference
		inA, inB := number.FindAllStringIndex(a, -1), number.FindAllStringIndex(b, -1)
		for i, p := range inA {
			x, y := a[p[0]:p[1]], b[inB[i][0]:inB[i][1]]
			if x != y {
				before := strings.TrimSpace(strings.ToValidUTF8(a[max(0, p[0]-30):p[0]], ""))
				out = append(out, apart(fmt.Sprintf("line %d, behind %q", n, before), x, y))
			}
		}
		if len(out) > 0 {
			return out
		}
	} // else blanks alone differ
	at := 0
	for at < min(len(a), len(b)) && a[at] == b[at] {
		at++
	}
	return []difference{apart(fmt.Sprintf("line %d", n), excerpt(a, at), excerpt(b, at))}
}

// excerpt is the stretch of a line around a place.
func excerpt(s string, at int) string {
	from, to := max(0, at-30), min(len(s), at+60)
	return fmt.Sprintf("%q", strings.ToValidUTF8(strings.TrimSpace(s[from:to]), ""))
}

// leavesOut says whether a file is left out by a pattern of its path or its name.
func (r rules) leavesOut(file string) bool {
	return slices.ContainsFunc(r.leaveOut, func(pattern string) bool {
		whole, _ := path.Match(pattern, file)
		base, _ := path.Match(pattern, path.Base(file))
		return whole || base
	})
}
