package words

import (
	"errors"
	"fmt"
	"io"
	"testing"

	"leadmark/fit/note"
	"leadmark/vision/frame"
)

// Sentences whose wording hangs on the values, or which tell one note within another.
func TestSentences(t *testing.T) {
	const check = "check batteries and triggers"
	from := note.Of("camera-moved", "from", "IMG_0007.JPG", -3.04, 12.0)
	for want, n := range map[string]note.Note{
		"": {},
		"the EXIF block is broken in part: the value of tag 0x010F is broken; the place of its main directory is not " +
			"a number": note.Of("exif-doubt", "part", []note.Note{note.Of("exif-doubt", "tag", 0x10f),
			note.Of("exif-doubt", "main-directory")}),
		"left out by hand: a hand in the picture": note.New("left-out", "a hand in the picture"),
		"of the JPEG inside the NEF file: JPEG marker FF0A at byte 12 cannot stand there": note.Of("damaged",
			"inside-raw", "NEF", note.Of("damaged", "jpeg-misplaced", 10, 12)),
		"graduation_mm is 1.0031, +0.31 % off the 1 mm of such rulers; the stated value was used: right for a " +
			"print measured by its bar, wrong if it was only rounded": note.New("graduation-stated", 1.0031e-3,
			0.0031, 1e-3),
		"the front end lies 4.3 mm before the trip line: a false trip, or the line is placed " +
			"wrongly": note.New("before-trip", -0.00432),
		"shows the slate for the shots behind it: drop_mm=400 delay_ms=3": note.New("slate",
			[]string{"drop_mm=400", "delay_ms=3"}),
		"the slate in a.jpg lies before it, but its symbol cannot be read; state the conditions in " +
			"shots.csv": note.New("slate-unread", "a.jpg", note.Of("slate", "unread")),
		"drop_mm in shots.csv is not what the slate in a.jpg says; shots.csv was " +
			"followed": note.New("slate-disagrees", "drop_mm", "a.jpg"),
		"the ruler is more than 0.7 stops darker here than in most frames; they came 2.0 s after the frame before, " +
			"while after 20.0 s or more the heads fired fully: wait at least that long, and " +
			check: note.New("flash-weak", 0.7, note.Of("flash-rest", "short", 2, 2, 20)),
		"the flash did not light these frames; they came 2.0 to 3.1 s after the frame before, no sooner than " +
			"others (usually 1.5 s) that fired fully: " + check: note.New("flash-failed",
			note.Of("flash-rest", "long", 2, 3.1, 1.5)),
		"the flash did not light these frames; they came 2.0 s after the frame before, others that fired fully " +
			"1.0 to 9.0 s (usually 3.0 s): give the heads time to recycle, and " + check: note.New("flash-failed",
			note.Of("flash-rest", "mixed", 2, 2.04, 1, 9, 3)),
		"the flash did not light these frames; give the heads time to recycle, and " + check: note.New("flash-failed",
			note.Of("flash-rest", "unknown")),
		"from IMG_0007.JPG on the picture lies 3.0 px left and 12.0 px down of where most frames have it: the " +
			"camera was moved; their readings are corrected by that, with a standard uncertainty of 0.8 px added. " +
			"Fix the camera before shooting on": note.Of("camera-moved", "corrected", from, 0.83),
		"from IMG_0007.JPG on the picture lies 3.0 px left and 12.0 px down of where most frames have it: the " +
			"camera was moved; that is known only to 6.0 px, too little to correct the readings by, so they are " +
			"left out. Fix the camera, and shoot these again, or calibrate them as a run of their " +
			"own": note.Of("camera-moved", "left", from, note.Of("camera-moved", "unsure", 6)),
		"the trip line was placed by hand, to 0.25 mm, as corrections.toml says": note.Of("by-hand", "trip", 0.00025),
		"corrections.toml speaks of a.jpg, b.jpg, which the folder does not have; take the entries out if the " +
			"frames will not come back": note.Of("by-hand-unused", "gone", []string{"a.jpg", "b.jpg"}),
		"the twin flash measured 2.013 m/s (standard uncertainty 0.012) where speed_mps states 2.1 m/s; the stated " +
			"one was used: leave speed_mps out to go by the flash, or check twin_ms": note.Of("twin-disagrees",
			"speed", 2.0131, 0.0123, 2.1),
		"the twin flash measured 2.01 m/s (standard uncertainty 0.12) at the trip point, which a fall of 206 mm " +
			"gives, where drop_mm states 250; the stated one was used: check the height, what it is measured to, " +
			"and twin_ms": note.Of("twin-disagrees", "drop", 2.0131, 0.123, 0.206, 0.25),
		"frames vary in exposure time: 1/200 s (3), 1/100 s (1); the lag belongs to one set-up, so calibrate each " +
			"by itself": note.New("exposure-time-varies", "exposure time", []string{"1/200 s", "1/100 s"}, 3, 1),
	} {
		if got := Sentence(n); got != want {
			t.Errorf("%v\n got %s\nwant %s", n, got, want)
		}
	}
	if got := Reason(note.New("still")); got != "still: shows the trip place" {
		t.Error(got)
	}
}

// An error within which a file is refused says so in words, and stays what it was.
func TestErrorsTellARefusal(t *testing.T) {
	bad := &frame.Refusal{Name: "a.jpg", Note: note.Of("unreadable", "missing")}
	err := Err(fmt.Errorf("the empty set: %w", bad))
	var again *frame.Refusal
	if err.Error() != "the empty set: there is no such file" || !errors.As(err, &again) || again != bad {
		t.Errorf("%v", err)
	}
	if Err(nil) != nil || !errors.Is(Err(io.EOF), io.EOF) {
		t.Error("other errors are changed")
	}
}
