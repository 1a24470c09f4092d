// Package words makes the sentences that people read of what was found, for documents, report, page
// and terminal alike:
//
//	note.Note (a code and values) --Sentence--> a sentence
//
// A sentence says what is the matter, where, and what to do next. Where the warnings and reasons of
// each part of the work stand:
//
//	picture.go, brokenfile.go    a picture file, a ruler or an animal in it
//	run.go, flash.go             the shots of a run
//	lag.go, checks.go            the estimate of the lag
//	schedule.go, shooting.go     what to shoot next
//	plan.go, cautions.go         the plan of a picture
//	check.go                     real frames checked
//	overtime.go                  a rig's calibrations
package words

import (
	"maps"
	"slices"
	"strings"
	"sync"

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
	return say(insideTold(n))
}

// Sentences says each of several notes.
func Sentences(notes []note.Note) []string {
	all := []string{}
	for _, n := range notes {
		all = append(all, Sentence(n))
	}
	return all
}

// insideTold is the note with the notes inside it as texts.
func insideTold(n note.Note) note.Note {
	n.Values = slices.Clone(n.Values)
	for i, v := range n.Values {
		if v.Notes != nil {
			n.Values[i] = note.Value{Text: strings.Join(Sentences(v.Notes), "; ")}
		}
	}
	return n
}

// Reason is a note's code and sentence, as a document's "reason" has them; "" for the zero Note.
func Reason(n note.Note) string {
	if n.None() {
		return ""
	}
	return n.Code + ": " + Sentence(n)
}

func key(code, which string) string {
	if which == "" {
		return code
	}
	return code + "/" + which
}

// sentences are all there are, by code, or code/case; made once, as a long run asks for thousands.
var sentences = sync.OnceValue(func() map[string]say {
	all := map[string]say{}
	for _, some := range []map[string]say{picture(), run(), lag(), planned(), shot()} {
		maps.Copy(all, some)
	}
	return all
})
