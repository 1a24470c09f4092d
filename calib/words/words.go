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
// and %q, whole numbers for %d, else numbers.
func as(format string) say {
	verbs := regexp.MustCompile(`%[-+# 0]*\d*(?:\.\d+)?(?:\[(\d+)\])?\d*(?:\.\d+)?([a-zA-Z%])`).FindAllStringSubmatch(format, -1)
	return func(n note.Note) string {
		args := make([]any, len(n.Values))
		next := 0
		for _, v := range verbs {
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
				args[next] = n.Text(next)
			case "d":
				args[next] = int(math.Round(n.Number(next)))
			default:
				args[next] = n.Number(next)
			}
			next++
		}
		return fmt.Sprintf(format, args...)
	}
}

// scaled is a note whose numbers at some places are multiplied, to come from SI units into those of a
// sentence.
func scaled(by float64, s say, places ...int) say {
	return func(n note.Note) string {
		values := append([]note.Value(nil), n.Values...)
		for _, i := range places {
			if i < len(values) {
				values[i].Number *= by
			}
		}
		n.Values = values
		return s(n)
	}
}
