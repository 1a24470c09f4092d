package report

import (
	"context"
	"testing"
)

// BenchmarkPictures is the time for one frame's annotated picture and thumbnail, its reduced
// picture given.
func BenchmarkPictures(b *testing.B) {
	r := beeRun(3, 0.4)
	f := r.Frames[1]
	old := *keep
	*keep = b.TempDir() // draw at full size
	src, err := beePicture(r)(context.Background(), f.Frame, 1800)
	*keep = old
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		m, err := annotated(src, f, drawnTrip(r))
		if err != nil {
			b.Fatal(err)
		}
		if _, err := encodeJPEG(m, 88); err != nil {
			b.Fatal(err)
		}
		if _, err := makeThumb(src, f, drawnTrip(r), 60_000); err != nil {
			b.Fatal(err)
		}
	}
}
