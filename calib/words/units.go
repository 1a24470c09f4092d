package words

import (
	"fmt"
	"slices"
	"strings"

	"leadmark/fit/note"
	"leadmark/fit/unit"
)

// What a number in SI units is multiplied by to stand in a sentence in another unit.
const (
	asItIs  = 1
	milli   = 1e3
	micro   = 1e6
	percent = 100
)

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

// Sentences says each of several notes.
func Sentences(notes []note.Note) []string {
	all := []string{}
	for _, n := range notes {
		all = append(all, Sentence(n))
	}
	return all
}

// Percent is a chance in per cent for people to read, without an exponent: nobody acts on less than
// one in a thousand.
func Percent(p float64) string {
	switch share := percent * p; {
	case share < 0.1:
		return "less than 0.1 %"
	case share < 10:
		return fmt.Sprintf("%.1f %%", share)
	default:
		return fmt.Sprintf("%.0f %%", share)
	}
}

// twoDigits prints a factor to two digits, without an exponent.
func twoDigits(factor float64) string {
	return unit.Decimal(unit.Fixed(factor, max(unit.Places(factor), 0)))
}
