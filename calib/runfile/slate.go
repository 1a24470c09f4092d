package runfile

import (
	"fmt"
	"strconv"
	"strings"

	"leadmark/calib/input"
)

// slateMark begins the text of every slate.
const slateMark = "leadmark-slate/"

// Slate is what a slate says of the shots that follow, in SI units; nil for what it leaves open.
// As text:
//
//	leadmark-slate/1 drop_mm=400 delay_ms=0
type Slate struct {
	Drop, Speed, Delay *float64 // m, m/s, s
	Group              *string
}

// slateKeys are the keys of a slate, named and bounded like the columns of shots.csv.
func (s *Slate) slateKeys() []slateKey {
	return []slateKey{
		{"drop_mm", 1e-3, dropRange(), &s.Drop},
		{"speed_mps", 1, speedRange(), &s.Speed},
		{"delay_ms", 1e-3, delayRange(), &s.Delay},
	}
}

type slateKey struct {
	name   string
	scale  float64
	limits input.Bounds
	value  **float64
}

// Text is the slate as its symbol carries it.
func (s Slate) Text() string {
	return strings.Join(append([]string{slateMark + "1"}, s.Parts()...), " ")
}

// Parts are the slate's conditions one by one, "drop_mm=400".
func (s Slate) Parts() []string {
	var parts []string
	for _, k := range s.slateKeys() {
		if *k.value != nil {
			parts = append(parts, k.name+"="+strconv.FormatFloat(**k.value/k.scale, 'g', 9, 64))
		}
	}
	if s.Group != nil {
		parts = append(parts, "group="+*s.Group)
	}
	return parts
}

// ParseSlate reads the text of a QR symbol; is is false for one that is no slate. What is wrong
// with a slate is said without its place.
func ParseSlate(text string) (s Slate, is bool, err error) {
	rest, is := strings.CutPrefix(strings.TrimSpace(text), slateMark)
	if !is {
		return s, false, nil
	}
	words := strings.Fields(rest)
	if len(words) == 0 || words[0] != "1" {
		return s, true, fmt.Errorf("the slate is of a kind this program does not know: %q", oneLine(text))
	}
	if len(words) == 1 {
		return s, true, fmt.Errorf("the slate states no condition")
	}
	for _, w := range words[1:] {
		if err := s.set(w); err != nil {
			return s, true, err
		}
	}
	if s.Group != nil && s.Speed != nil {
		return s, true, fmt.Errorf("the slate states a group and a measured speed; a group joins shots at " +
			"one unknown speed")
	}
	if s.Drop != nil && (s.Speed != nil || s.Group != nil) {
		return s, true, fmt.Errorf("the slate states a drop and a push at once")
	}
	return s, true, nil
}

// set reads one word, "drop_mm=400".
func (s *Slate) set(word string) error {
	name, text, _ := strings.Cut(word, "=")
	var known []string
	for _, k := range s.slateKeys() {
		known = append(known, k.name)
		if k.name != name {
			continue
		}
		x, err := input.ParseNumber(text)
		if err != nil {
			return fmt.Errorf("%s of the slate %w", name, err)
		}
		if what := k.limits.Check(x); what != "" {
			return fmt.Errorf("%s of the slate %s", name, what)
		}
		x *= k.scale
		*k.value = &x
		return nil
	}
	if name != "group" {
		return fmt.Errorf("the slate has the key %q, which is not known; known are %s and group", oneLine(name),
			strings.Join(known, ", "))
	}
	if !groupWord(text) {
		return fmt.Errorf("group of the slate is %q; it is one word of letters, digits, - and _", oneLine(text))
	}
	s.Group = &text
	return nil
}

// groupWord says whether a group's name can stand on a slate.
func groupWord(text string) bool {
	return text != "" && len(text) <= 24 && strings.Trim(text,
		"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_") == ""
}

// Suits finds conditions that do not belong to the method.
func (s Slate) Suits(m Method) error {
	switch {
	case m == Drop && (s.Speed != nil || s.Group != nil):
		return fmt.Errorf("it speaks of a push, and method is drop")
	case m == Push && s.Drop != nil:
		return fmt.Errorf("it states drop_mm, and method is push")
	}
	return nil
}
