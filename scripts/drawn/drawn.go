// Package drawn is what the studies of drawn pictures share: a picture is a file that is looked at as
// the program looks, and is kept where it went wrong.
package drawn

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"

	"leadmark/calib/words"
	"leadmark/vision"
	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/synth/animals"
)

// Rulers looks at pictures of rulers and logs what came of them; several may do so at a time.
type Rulers struct {
	Looker  *vision.Looker
	Log     io.Writer
	Verbose bool   // a line for each picture, not for those alone that went wrong
	Keep    string // folder for those; "" for none
	mu      sync.Mutex
}

// Look opens a picture and looks at it.
func (r *Rulers) Look(path string) (ruler.Sighting, error) {
	f, refused := frame.Open(path)
	if refused != nil {
		return ruler.Sighting{}, fmt.Errorf("%s: %s", path, words.Sentence(refused.Note))
	}
	return r.Looker.Look(context.Background(), f, ruler.Hint{})
}

// Tell logs what came of a picture.
func (r *Rulers) Tell(came fmt.Stringer, bad bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.Verbose || bad {
		fmt.Fprintln(r.Log, came)
	}
}

// Done logs what came of a picture, and keeps or drops it.
func (r *Rulers) Done(came fmt.Stringer, bad bool, path string) error {
	r.Tell(came, bad)
	if bad && r.Keep != "" {
		if err := os.MkdirAll(r.Keep, 0o755); err != nil {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(r.Keep, filepath.Base(path)), data, 0o644); err != nil {
			return err
		}
	}
	return os.Remove(path)
}

// quality is about that of a camera's finest JPEG.
const quality = 95

// Animals draws a scene of animals to a file, and returns what is true of them.
func Animals(path string, s animals.Scene) (frame.Frame, []animals.Truth, error) {
	img, truth := animals.Render(s)
	data, err := native.Library{}.EncodeJPEG(img, quality)
	if err != nil {
		return frame.Frame{}, truth, err
	}
	if err := os.WriteFile(path, data, 0o666); err != nil {
		return frame.Frame{}, truth, err
	}
	f, refused := frame.Open(path)
	if refused != nil {
		return frame.Frame{}, truth, words.Err(refused)
	}
	return f, truth, nil
}
