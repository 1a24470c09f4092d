package words

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"leadmark/fit/note"
	"leadmark/fit/unit"
)

// say makes a sentence of a note whose notes inside are told already, each as a text.
type say func(n note.Note) string

// as makes a sentence from a format of fmt.Sprintf whose verbs take the note's values: texts for %s
// and %q, where a list stands with commas, whole numbers for %d and %X, else numbers.
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
	if v.List != nil {
		return strings.Join(v.List, ", ")
	}
	return v.Text
}

// in is the sentence with the note's numbers in other units: each is multiplied by the factor at its
// place; those beyond the factors stay as they are.
func (s say) in(factors ...float64) say {
	return func(n note.Note) string {
		n.Values = slices.Clone(n.Values)
		for i, by := range factors {
			if i < len(n.Values) {
				n.Values[i].Number *= by
			}
		}
		return s(n)
	}
}

// chance is the sentence with the probability at a place as a text.
func (s say) chance(place int) say {
	return func(n note.Note) string {
		n.Values = slices.Clone(n.Values)
		if place < len(n.Values) {
			n.Values[place].Text = unit.Chance(n.Values[place].Number)
		}
		return s(n)
	}
}

// list is the sentence with the texts at a place joined.
func (s say) list(place int, between string) say {
	return func(n note.Note) string {
		n.Values = slices.Clone(n.Values)
		if place < len(n.Values) {
			n.Values[place] = note.Value{Text: strings.Join(n.Values[place].List, between)}
		}
		return s(n)
	}
}
