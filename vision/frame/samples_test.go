package frame

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"leadmark/testdata"
)

// TestSamplesAgainstExiftool reads the 57 camera samples that come with the goexif module (version
// in go.mod) and compares every field with what exiftool 12.57 read from them (option -n, EXIF
// group). Most samples are cut off after the EXIF segment, so that exiftool too read them wrapped:
// the untouched segment between start and end of an image. Here it is put into a whole small JPEG.
func TestSamplesAgainstExiftool(t *testing.T) {
	dir := filepath.Join(testdata.Module(t, "github.com/rwcarlsen/goexif"), "exif", "samples")
	n := 0
	for _, want := range testdata.Table(t, "camera/goexif_samples.csv") {
		raw, err := os.ReadFile(filepath.Join(dir, want["SourceFile"]))
		if err != nil {
			t.Fatal(err)
		}
		if sum := sha256.Sum256(raw); !strings.HasPrefix(hex.EncodeToString(sum[:]),
			want["sha256_16"]) {
			t.Errorf("%s is not the file that exiftool read", want["SourceFile"])
		}
		segment := firstAPP1(t, want["SourceFile"], raw)
		f := mustInspect(t, want["SourceFile"], withSegment(plainJPEG(t, 24, 16), 0xE1, segment))
		compareSample(t, f, want)
		n++
	}
	if n != 57 {
		t.Errorf("%d samples compared, the table is known to hold 57", n)
	}
}

// firstAPP1 finds the EXIF segment by its text, not by the code under test.
func firstAPP1(t *testing.T, name string, raw []byte) []byte {
	t.Helper()
	at := bytes.Index(raw, []byte("Exif\x00\x00"))
	if at < 4 {
		t.Fatalf("%s has no EXIF segment", name)
	}
	n := int(raw[at-2])<<8 + int(raw[at-1])
	return raw[at:min(len(raw), at-2+n)]
}

func compareSample(t *testing.T, f Frame, want map[string]string) {
	t.Helper()
	if f.Name == "geodegrees_as_string.jpg" {
		// by goexif's own exif/regress_expected_test.go: exiftool found it in another directory and
		// the table left it out
		want["Make"] = "HTC"
	}
	text := func(key, got string) {
		t.Helper()
		if w := strings.TrimSpace(want[key]); got != w {
			t.Errorf("%s: %s %q, exiftool has %q", f.Name, key, got, w)
		}
	}
	number := func(key string, got float64) {
		t.Helper()
		w, _ := strconv.ParseFloat(want[key], 64)
		if math.Abs(got-w) > 1e-9*math.Abs(w) { // the table has ten digits
			t.Errorf("%s: %s %v, exiftool has %q", f.Name, key, got, want[key])
		}
	}
	text("Make", f.Make)
	text("Model", f.Model)
	number("ExposureTime", f.Exposure)
	number("FNumber", f.FNumber)
	number("ISO", float64(f.ISO))
	number("FocalLength", f.Focal*1000)
	if w, err := strconv.Atoi(want["Orientation"]); err == nil && w != 0 {
		number("Orientation", float64(f.Orientation))
	}
	compareFlash(t, f, want["Flash"])
	compareTaken(t, f, want["DateTimeOriginal"], want["SubSecTimeOriginal"])
}

func compareFlash(t *testing.T, f Frame, want string) {
	t.Helper()
	if want == "" {
		if f.Flash != nil {
			t.Errorf("%s: a flash field where exiftool has none", f.Name)
		}
		return
	}
	bits := 0
	if f.Flash == nil {
		t.Errorf("%s: no flash field, exiftool has %s", f.Name, want)
		return
	}
	for i, on := range []bool{f.Flash.Fired, false, false, false, false, f.Flash.NoFunction,
		f.Flash.RedEye} {
		if on {
			bits |= 1 << i
		}
	}
	bits |= f.Flash.Return<<1 | f.Flash.Mode<<3
	if strconv.Itoa(bits) != want {
		t.Errorf("%s: flash %d, exiftool has %s", f.Name, bits, want)
	}
}

func compareTaken(t *testing.T, f Frame, date, sub string) {
	t.Helper()
	date, sub = strings.TrimSpace(date), strings.TrimSpace(sub)
	if date == "" {
		if !f.Taken.IsZero() {
			t.Errorf("%s: taken %v where exiftool has no date", f.Name, f.Taken)
		}
		return
	}
	layout := "2006:01:02 15:04:05"
	if sub != "" {
		date, layout = date+"."+sub, layout+"."+strings.Repeat("0", len(sub))
	}
	want, err := time.Parse(layout, date)
	if err != nil {
		t.Logf("%s: exiftool's date %q is not one", f.Name, date)
		want = time.Time{}
	}
	if !f.Taken.Equal(want) || f.ZoneKnown {
		t.Errorf("%s: taken %v, exiftool has %s", f.Name, f.Taken, date)
	}
}
