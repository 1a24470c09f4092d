package ruler

import (
	"bytes"
	"encoding/gob"
)

// Sides are the long edges of a ruler's body, the one beside the marks first; nil where not found.
type Sides [2]*Line

// written is Sides as gob takes them: it has no way to write an array with nothing in a place.
type written struct {
	Found [2]bool
	Lines [2]Line
}

// GobEncode writes the edges that were found.
func (s Sides) GobEncode() ([]byte, error) {
	var w written
	for k, l := range s {
		if l != nil {
			w.Found[k], w.Lines[k] = true, *l
		}
	}
	var b bytes.Buffer
	err := gob.NewEncoder(&b).Encode(w)
	return b.Bytes(), err
}

// GobDecode reads what GobEncode wrote.
func (s *Sides) GobDecode(data []byte) error {
	var w written
	if err := gob.NewDecoder(bytes.NewReader(data)).Decode(&w); err != nil {
		return err
	}
	for k := range s {
		if s[k] = nil; w.Found[k] {
			s[k] = &w.Lines[k]
		}
	}
	return nil
}

// Hold says whether a place lies between the two edges, where both were found.
func (s Sides) Hold(p Point) bool {
	if s[0] == nil || s[1] == nil {
		return false
	}
	a, b := *s[0], *s[1]
	if a.B.Sub(a.A).Dot(b.B.Sub(b.A)) < 0 {
		b.A, b.B = b.B, b.A
	}
	return a.Distance(p)*b.Distance(p) < 0
}
