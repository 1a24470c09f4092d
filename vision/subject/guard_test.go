package subject

import (
	"context"
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/vision/frame"
	"leadmark/vision/pixel"
	"leadmark/vision/pixel/native"
	"leadmark/vision/synth/jpegfile"
	"leadmark/vision/synth/photo"
	"leadmark/vision/synth/studies"
)

// A fault of the program's own, met on one frame, refuses that frame and says whose fault it is; it
// does not end the process. A set that was never learned is such a fault.
func TestFaultOnOneFrameRefusesIt(t *testing.T) {
	im, _ := photo.Render(studies.At("small", 5, 1).Scene)
	path := filepath.Join(t.TempDir(), "a.jpg")
	if err := jpegfile.Write(path, im, jpegfile.Exif{}, 90); err != nil {
		t.Fatal(err)
	}
	f, refused := frame.Open(path)
	if refused != nil {
		t.Fatal(refused)
	}
	l := &Finder{k: pixel.FindingScale(f.Width, f.Height), w: f.Width, h: f.Height,
		decoder: &pixel.Decoder{Library: native.Library{}}}
	seen, err := l.Look(context.Background(), f, Hint{Length: 40})
	if err != nil || seen.Refusal.Code != "program-fault" || !strings.Contains(seen.Refusal.Text(0), "report it") ||
		seen.Width != f.Width {
		t.Errorf("%+v, %v", seen, err)
	}
	if _, err := l.Cutout(context.Background(), f, Hint{Length: 40}); !errors.Is(err, pixel.ErrFault) {
		t.Errorf("%v", err)
	}
}
