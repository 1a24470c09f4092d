package vision

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"testing"

	"leadmark/fit/parallel"
	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/synth/jpegfile"
	"leadmark/vision/synth/photo"
	"leadmark/vision/synth/studies"
)

// Frames of several sizes that one Looker looks at, several at a time, are seen as those that each
// have a Looker of their own: the memory that they share is nobody else's while it is used. The race
// detector watches this test (scripts/test).
func TestLooksSeveralAtATime(t *testing.T) {
	var frames []frame.Frame
	var alone [][]byte
	for k := range 2 {
		im, _ := photo.Render(studies.At("small", 5, uint64(k+1)).Scene)
		path := filepath.Join(t.TempDir(), fmt.Sprintf("%d.jpg", k))
		if err := jpegfile.Write(path, im, jpegfile.Exif{}, 90); err != nil {
			t.Fatal(err)
		}
		f, refused := frame.Open(path)
		if refused != nil {
			t.Fatal(refused)
		}
		seen, err := seenAs(NewLooker(native.Library{}), f)
		if err != nil {
			t.Fatal(err)
		}
		frames, alone = append(frames, f), append(alone, seen)
	}
	l := NewLooker(native.Library{})
	parallel.Each(2*len(frames), 4, func(i int) {
		seen, err := seenAs(l, frames[i%len(frames)])
		if err != nil || !bytes.Equal(seen, alone[i%len(frames)]) {
			t.Errorf("frame %d is seen otherwise among others (%v)", i%len(frames), err)
		}
	})
}

// seenAs is all that is seen in a frame.
func seenAs(l *Looker, f frame.Frame) ([]byte, error) {
	s, err := l.Look(context.Background(), f, ruler.Hint{})
	if err != nil {
		return nil, err
	}
	return json.Marshal(s)
}
