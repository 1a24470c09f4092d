package note

import (
	"errors"
	"testing"
)

func TestNotesWithinANote(t *testing.T) {
	inside := Of("damaged", "jpeg", 12, "a.jpg")
	n := New("unread", inside, []string{"x", "y"}, errors.New("gone"), 0.5)
	if got := n.Values[0].Notes; len(got) != 1 || !got[0].Same(inside) || n.Values[1].Notes != nil {
		t.Errorf("%v", n)
	}
	for name, other := range map[string]Note{
		"another inside": New("unread", Of("damaged", "jpeg", 13, "a.jpg"), []string{"x", "y"}, "gone", 0.5),
		"none inside":    New("unread", "", []string{"x", "y"}, "gone", 0.5),
		"another text":   New("unread", inside, []string{"x"}, "gone", 0.5),
		"another case":   Of("unread", "again", inside, []string{"x", "y"}, "gone", 0.5),
		"fewer":          New("unread", inside, []string{"x", "y"}, "gone"),
	} {
		if n.Same(other) {
			t.Errorf("%s: %v is taken for %v", name, other, n)
		}
	}
	if !n.Same(New("unread", []Note{inside}, []string{"x", "y"}, "gone", 0.5)) {
		t.Error("the same note made anew is another")
	}
	if got, want := n.String(), `unread [damaged/jpeg 12 "a.jpg"] ["x" "y"] "gone" 0.5`; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
