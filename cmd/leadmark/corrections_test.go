package main

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	imagedraw "image/draw"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"leadmark/calib/record"
	"leadmark/calib/runfile"
	"leadmark/vision/synth/runs"
)

// smallRun draws a run of two heights, four drops each, and returns its folder.
func smallRun(t *testing.T, seed int64) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "night")
	if _, err := runs.WriteRun(dir, smallSpec(seed)); err != nil {
		t.Fatal(err)
	}
	return dir
}

// resultOf runs the command line and returns its result.
func resultOf(t *testing.T, dir string) record.Document {
	t.Helper()
	var out, said bytes.Buffer
	if code := status([]string{"calibrate", dir, "--json"}, &out, &said); code != 0 {
		t.Fatalf("exit status %d: %s", code, said.String())
	}
	d, err := record.Decode(out.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func frameOf(t *testing.T, d record.Document, name string) record.FrameEntry {
	t.Helper()
	i := slices.IndexFunc(d.Frames, func(f record.FrameEntry) bool { return f.File == name })
	if i < 0 {
		t.Fatalf("no frame %s", name)
	}
	return d.Frames[i]
}

func writeCorrections(t *testing.T, dir, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, runfile.CorrectionsFileName),
		[]byte("schema = \"leadmark/corrections/1\"\n"+text), 0o666); err != nil {
		t.Fatal(err)
	}
}

// What a person put right is followed by the command line, said in result and report, and survives
// a second run. The check of the moved front end is plain geometry: so many pixels on are so many
// millimetres by the frame's own scale.
func TestTheCommandLineFollowsCorrections(t *testing.T) {
	dir := smallRun(t, 3)
	writeCorrections(t, dir, "[trip]\nline_px = [[500, 0], [500, 1087]]\nu_mm = 1\n")
	before := resultOf(t, dir)
	moved, out, marked := before.Frames[1], before.Frames[2], before.Frames[4]
	const px = 20.0
	text := fmt.Sprintf("[trip]\nline_px = [[500, 0], [500, 1087]]\nu_mm = 1\n[[frame]]\nfile = %q\nfront_px "+
		"= [%v, %v]\n[[frame]]\nfile = %q\nleave_out = \"a bee <b>flew</b> through\"\n",
		moved.File, moved.FrontPX[0]-px, moved.FrontPX[1], out.File)
	text += fmt.Sprintf("[[frame]]\nfile = %q\nruler_px = [[%v, %v], [%v, %v]]\n", marked.File, marked.FrontPX[0],
		marked.FrontPX[1]-40, marked.FrontPX[0]-300, marked.FrontPX[1]-60)
	writeCorrections(t, dir, text)
	for _, again := range []string{"first", "second"} {
		after := resultOf(t, dir)
		f := frameOf(t, after, moved.File)
		want := *moved.AdvanceMM - px / *moved.PxPerMM
		if f.AdvanceMM == nil || math.Abs(*f.AdvanceMM-want) > 0.15 || !slices.Equal(f.Corrected, []string{"front"}) {
			t.Errorf("%s run: front end moved by %v px: %+v, want an advance of %.2f mm", again, px, f, want)
		}
		if f := frameOf(t, after, out.File); f.Status != "left_out" ||
			f.Reason != "left-out: left out by hand: a bee <b>flew</b> through" {
			t.Errorf("%s run: left out: %+v", again, f)
		}
		f = frameOf(t, after, marked.File)
		if f.AdvanceMM == nil || math.Abs(*f.AdvanceMM-*marked.AdvanceMM) > 0.1 ||
			!slices.Equal(f.Corrected, []string{"ruler"}) {
			t.Errorf("%s run: marked ruler: %+v, before %+v", again, f, marked)
		}
		if b := after.ByHand; b == nil || b.Frames != 3 || !b.TripLine {
			t.Errorf("%s run: by_hand: %+v", again, b)
		}
		if line := after.TripLinePX; len(line) != 2 {
			t.Errorf("%s run: trip line %v", again, line)
		}
	}
	page, err := os.ReadFile(dir + "-report/report.html")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"front end placed by hand", "trip line was placed by hand", "ruler marked by hand"} {
		if !strings.Contains(strings.ToLower(string(page)), want) {
			t.Errorf("the report does not say %q", want)
		}
	}
	if strings.Contains(string(page), "<b>flew</b>") {
		t.Error("a reason became markup in the report")
	}
}

// A broken file is refused with its line and the nearest known key, and nothing is written.
func TestBrokenCorrectionsStopTheCommandLine(t *testing.T) {
	dir := smallRun(t, 4)
	writeCorrections(t, dir, "[[frame]]\nfile = \"IMG_0001.JPG\"\nfront = [1, 2]\n")
	var out, said bytes.Buffer
	if code := status([]string{"calibrate", dir}, &out, &said); code != 2 {
		t.Errorf("exit status %d", code)
	}
	for _, want := range []string{"corrections.toml:4", "front_px"} {
		if !strings.Contains(said.String(), want) {
			t.Errorf("does not say %q: %s", want, said.String())
		}
	}
	if _, err := os.Stat(dir + "-report"); err == nil {
		t.Error("a report was written")
	}
}

// Of two rulers in one picture the one is read that a person marked: its front end lies where it
// lies in the picture of that ruler alone.
func TestAMarkSaysWhichRulerIsRead(t *testing.T) {
	from := smallRun(t, 6)
	alone := resultOf(t, from)
	dir := t.TempDir() + "/two"
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"run.toml", "IMG_0003.JPG", "IMG_0004.JPG", "IMG_0007.JPG", "IMG_0008.JPG"} {
		copyFile(t, from, dir, name, 1)
	}
	stack(t, filepath.Join(dir, "two.jpg"), filepath.Join(from, "IMG_0002.JPG"), filepath.Join(from, "IMG_0006.JPG"))
	for i, name := range []string{"IMG_0002.JPG", "IMG_0006.JPG"} {
		want := *frameOf(t, alone, name).FrontPX
		want[1] += 1088 * float64(i)
		writeCorrections(t, dir, fmt.Sprintf("[[frame]]\nfile = \"two.jpg\"\nruler_px = [[%v, %v], [%v, %v]]\n",
			want[0]-20, want[1]-60, want[0]-350, want[1]-70))
		f := frameOf(t, resultOf(t, dir), "two.jpg")
		if f.FrontPX == nil || math.Hypot(f.FrontPX[0]-want[0], f.FrontPX[1]-want[1]) > 2 {
			t.Errorf("marked as in %s: front end at %v (%s), alone at %v", name, f.FrontPX, f.Reason, want)
		}
	}
}

// stack writes two pictures of one size into one, the second below the first.
func stack(t *testing.T, path string, parts ...string) {
	t.Helper()
	var all *image.RGBA
	for i, p := range parts {
		file, err := os.Open(p)
		if err != nil {
			t.Fatal(err)
		}
		img, err := jpeg.Decode(file)
		if err := errors.Join(err, file.Close()); err != nil {
			t.Fatal(err)
		}
		b := img.Bounds()
		if all == nil {
			all = image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()*len(parts)))
		}
		imagedraw.Draw(all, b.Add(image.Pt(0, i*b.Dy())), img, b.Min, imagedraw.Src)
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, all, &jpeg.Options{Quality: 92}); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, out.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
}
