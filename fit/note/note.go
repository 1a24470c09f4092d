// Package note holds what people are to be told as a code and values, so that rooms that find
// something out need not put it into words: package words of calib makes the sentence.
package note

import (
	"fmt"
	"slices"
	"strconv"
)

// Note is one thing to tell; the zero Note is nothing.
type Note struct {
	Code   string  // short and stable, as documents have it
	Case   string  // which of the code's sentences is meant; "" where it has one alone
	Values []Value // in the order that the sentence takes them
}

// Value is a number in SI units, a text, several texts, or notes that are told inside another.
type Value struct {
	Number float64
	Text   string
	List   []string
	Notes  []Note
}

// New makes a note with the code's only sentence. A value is a number (an integer, or a float64 in SI
// units), a string, a []string, a Note, a []Note, an error or a fmt.Stringer; of another kind it is a fault in the
// program, and New panics.
func New(code string, values ...any) Note { return Of(code, "", values...) }

// Of makes a note with one of the code's sentences.
func Of(code, which string, values ...any) Note {
	n := Note{Code: code, Case: which}
	for _, v := range values {
		n.Values = append(n.Values, valueOf(v))
	}
	return n
}

func valueOf(v any) Value {
	switch v := v.(type) {
	case float64:
		return Value{Number: v}
	case int:
		return Value{Number: float64(v)}
	case int64:
		return Value{Number: float64(v)}
	case string:
		return Value{Text: v}
	case []string:
		return Value{List: slices.Clone(v)}
	case Note:
		return Value{Notes: []Note{v}}
	case []Note:
		return Value{Notes: slices.Clone(v)}
	case error:
		return Value{Text: v.Error()}
	case fmt.Stringer:
		return Value{Text: v.String()}
	}
	panic(fmt.Sprintf("a note cannot hold a %T", v))
}

// None says that there is nothing to tell.
func (n Note) None() bool { return n.Code == "" }

// Same says that two notes tell the same.
func (n Note) Same(o Note) bool {
	return n.Code == o.Code && n.Case == o.Case && slices.EqualFunc(n.Values, o.Values, Value.same)
}

func (v Value) same(o Value) bool {
	return v.Number == o.Number && v.Text == o.Text && slices.Equal(v.List, o.List) &&
		slices.EqualFunc(v.Notes, o.Notes, Note.Same)
}

// Number is the value at i as a number; 0 where there is none.
func (n Note) Number(i int) float64 { return n.at(i).Number }

// Text is the value at i as a text.
func (n Note) Text(i int) string { return n.at(i).Text }

// List is the value at i as texts.
func (n Note) List(i int) []string { return n.at(i).List }

// String is a note for those who develop the program; what people read is made by package words.
func (n Note) String() string {
	if n.None() {
		return ""
	}
	said := n.Code
	if n.Case != "" {
		said += "/" + n.Case
	}
	for _, v := range n.Values {
		said += " " + v.String()
	}
	return said
}

// String is the value for those who develop the program.
func (v Value) String() string {
	switch {
	case v.Notes != nil:
		return fmt.Sprint(v.Notes)
	case v.List != nil:
		return fmt.Sprintf("%q", v.List)
	case v.Text != "":
		return strconv.Quote(v.Text)
	}
	return strconv.FormatFloat(v.Number, 'g', 6, 64)
}

func (n Note) at(i int) Value {
	if i < 0 || i >= len(n.Values) {
		return Value{}
	}
	return n.Values[i]
}
