// Package words makes the sentences that people read of what was found, for documents, report, page
// and terminal alike:
//
//	note.Note (a code and values) --Sentence--> a sentence
//
// Each file has the sentences of one part of the work. A sentence says what is the matter, where, and
// what to do next.
package words

import (
	"fmt"
	"maps"
	"math"
	"regexp"
	"strconv"
	"strings"

	"leadmark/fit/note"
)

// Sentence says a note for a person; "" for the zero Note. A note whose sentence nobody wrote, which
// tests rule out, is told by its code.
func Sentence(n note.Note) string {
	if n.None() {
		return ""
	}
	say := sentences()[key(n.Code, n.Case)]
	if say == nil {
		return n.Code
	}
	return say(n)
}

// Reason is a note's code and sentence, as a document's "reason" has them; "" for the zero Note.
func Reason(n note.Note) string {
	if n.None() {
		return ""
	}
	return n.Code + ": " + Sentence(n)
}

// say makes a sentence of a note.
type say func(n note.Note) string

func key(code, which string) string {
	if which == "" {
		return code
	}
	return code + "/" + which
}

// sentences are all there are, by code, or code/case.
func sentences() map[string]say {
	all := map[string]say{}
	for _, some := range []map[string]say{picture(), run(), lag(), planned(), shot()} {
		maps.Copy(all, some)
	}
	return all
}

// as makes a sentence from a format of fmt.Sprintf whose verbs take the note's values: texts for %s
// and %q, where %s takes notes inside by their sentences and a list with commas, whole numbers
// for %d and %X, else numbers.
func as(format string) say {
	return func(n note.Note) string { // the verbs are looked for when the sentence is asked for
		args := make([]any, len(n.Values))
		next := 0
		for _, v := range verb().FindAllStringSubmatch(format, -1) {
			if v[2] == "%" {
				continue
			}
			if v[1] != "" {
				i, _ := strconv.Atoi(v[1])
				next = i - 1
			}
			if next >= len(args) {
				break
			}
			switch v[2] {
			case "s", "q":
				args[next] = text(n.Values[next])
			case "d", "X":
				args[next] = int(math.Round(n.Number(next)))
			default:
				args[next] = n.Number(next)
			}
			next++
		}
		return fmt.Sprintf(format, args...)
	}
}

// verb finds the verbs of a format, with the place that one names and its letter.
func verb() *regexp.Regexp {
	return regexp.MustCompile(`%[-+# 0]*\d*(?:\.\d+)?(?:\[(\d+)\])?\d*(?:\.\d+)?([a-zA-Z%])`)
}

// text is a value that stands in a sentence as it is.
func text(v note.Value) string {
	switch {
	case v.Notes != nil:
		return joined(v.Notes)
	case v.List != nil:
		return strings.Join(v.List, ", ")
	}
	return v.Text
}

func joined(notes []note.Note) string {
	all := make([]string, len(notes))
	for i, n := range notes {
		all[i] = Sentence(n)
	}
	return strings.Join(all, "; ")
}
