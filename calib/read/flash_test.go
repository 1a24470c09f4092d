package read

import (
	"slices"
	"testing"
	"time"

	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// A ruler whose sRGB tone falls from 0.8 to 0.5 has lost log2(0.604/0.214) = 1.5 stops of light.
func TestWeakAndFailedFlashesAreNamed(t *testing.T) {
	start := time.Date(2026, 5, 3, 21, 0, 0, 0, time.UTC)
	var shots []Shot
	var readings []ruler.Reading
	for i, tone := range []float64{0.80, 0.79, 0.50, 0.81, 0.78, 0} {
		r := ruler.Reading{Status: ruler.StatusRead, Tone: tone}
		if tone == 0 {
			r = ruler.Reading{Status: ruler.StatusRefused, Reason: note.New("dark")}
		}
		gap := time.Duration(20*i) * time.Second
		if i == 2 {
			gap -= 18 * time.Second
		}
		shots = append(shots, Shot{Frame: frame.Frame{Name: string(rune('a'+i)) + ".jpg", Taken: start.Add(gap)}})
		readings = append(readings, r)
	}
	got := map[string]Warning{}
	for _, w := range flashWarnings(shots, readings) {
		got[w.Code] = w
	}
	if w := got["flash-weak"]; !slices.Equal(w.Frames, []string{"c.jpg"}) ||
		!w.Same(note.New("flash-weak", 0.7, note.Of("flash-rest", "short", 2, 2, 20))) {
		t.Errorf("weak flash: %+v", w)
	}
	if w := got["flash-failed"]; !slices.Equal(w.Frames, []string{"f.jpg"}) {
		t.Errorf("failed flash: %+v", w)
	}
	if len(got) != 2 {
		t.Errorf("warnings %v", got)
	}
}
