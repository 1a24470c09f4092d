package vision

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/subject"
)

// A picture that took the place of the one listed is not looked at: what it shows would stand for
// the other.
func TestAReplacedPictureIsNotLookedAt(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.jpg")
	one, other := encoded(t, smooth(640, 480)), encoded(t, smooth(644, 480))
	write := func(data []byte) {
		if err := os.WriteFile(path, data, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write(one)
	f, refused := frame.Open(path)
	if refused != nil {
		t.Fatal(refused)
	}
	finder, err := subject.Learn(context.Background(), native.Library{}, nil, &f)
	if err != nil {
		t.Fatal(err)
	}
	write(other)
	var bad *frame.Refusal
	if s, err := NewLooker(native.Library{}).Look(context.Background(), f, ruler.Hint{}); !errors.As(err, &bad) ||
		bad.Code != frame.CodeReplaced {
		t.Errorf("rulers: %+v, %v", s.Refusal, err)
	}
	if s, err := NewLooker(native.Library{}).ReadSlate(context.Background(), f); !errors.As(err, &bad) ||
		bad.Code != frame.CodeReplaced {
		t.Errorf("a slate: %+v, %v", s, err)
	}
	if s, err := finder.Look(context.Background(), f, subject.Hint{}); err != nil ||
		s.Refusal.Code != frame.CodeReplaced {
		t.Errorf("animals: %+v, %v", s.Refusal, err)
	}
	if _, err := finder.Cutout(context.Background(), f, subject.Hint{}); !errors.As(err, &bad) ||
		bad.Code != frame.CodeReplaced {
		t.Errorf("a cut-out: %v", err)
	}
	if _, err := subject.Learn(context.Background(), native.Library{}, nil, &f); !errors.As(err, &bad) {
		t.Errorf("the empty set: %v", err)
	}
	write(one)
	if s, err := NewLooker(native.Library{}).Look(context.Background(), f, ruler.Hint{}); err != nil ||
		s.Refusal.Code == frame.CodeReplaced {
		t.Errorf("put back: %+v, %v", s.Refusal, err)
	}
}
