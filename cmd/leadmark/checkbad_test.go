package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/calib/shoot"
	"leadmark/vision/synth/animals"
)

// ellipse is what a plain picture shows: half as high as long, of one colour; nothing where its
// length is 0.
type ellipse struct {
	x, length int
	c         color.RGBA
}

func plainPicture(t *testing.T, path string, w, h int, e ellipse) {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{60, 140, 60, 255}
			if a, b := 2*float64(x-e.x)/float64(max(1, e.length)), 4*float64(y-h/2)/float64(max(1,
				e.length)); a*a+b*b < 1 {
				c = e.c
			}
			v := (x*7919 + y*104729 + x*y*31 + e.x) % 5 // a little noise, else all frames are one
			img.Set(x, y, color.RGBA{c.R + uint8(v), c.G + uint8(v), c.B + uint8(v), 255})
		}
	}
	writeJPEG(t, path, img)
}

// plainShoot is a shoot of plain pictures, at 5 px a millimetre: quick to draw.
func plainShoot(t *testing.T, all ...ellipse) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "bees")
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	plainPicture(t, filepath.Join(dir, "EMPTY.JPG"), 500, 300, ellipse{})
	for i, e := range all {
		plainPicture(t, filepath.Join(dir, fmt.Sprintf("IMG_%d.JPG", i+1)), 500, 300, e)
	}
	text := "subject = \"bee.toml\"\ntravel = \"right\"\npx_per_mm = 5\nempty = \"EMPTY.JPG\"\nexit_px = " +
		"[50, 150]\n[trip]\nline_px = [[50, 0], [50, 299]]\n"
	for name, text := range map[string]string{"shoot.toml": text, "bee.toml": beeTOML} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// checked runs leadmark check and returns its shoot.json with all that it warned of.
func checked(t *testing.T, dir string, flags ...string) (d shoot.Document, warnings string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	args := append([]string{"check", dir, "--lag-ms", "52", "--spread-ms", "0.5", "--json", "--out",
		filepath.Join(t.TempDir(), "out")}, flags...)
	if got := status(args, &stdout, &stderr); got != statusResult {
		t.Fatalf("exit status %d\n%s", got, stderr.String())
	}
	if err := json.Unmarshal(stdout.Bytes(), &d); err != nil {
		t.Fatal(err)
	}
	for _, w := range d.Warnings {
		warnings += w.Code + ": " + w.Text + "\n"
	}
	return d, warnings
}

var dark = color.RGBA{40, 30, 20, 255}

// A frame without a subject is empty; what is seen of a run without one says so.
func TestCheckNoSubject(t *testing.T) {
	d, warnings := checked(t, plainShoot(t, ellipse{}, ellipse{}))
	if len(d.Frames) != 2 || d.Frames[0].Status != shoot.Empty || d.Frames[0].Rating != 0 {
		t.Errorf("%+v", d.Frames)
	}
	if !strings.Contains(warnings, "show no animal") || d.Subject == nil || d.Subject.NotLearned == "" {
		t.Errorf("%s%+v", warnings, d.Subject)
	}
}

// A subject of nearly the backdrop's colour is found doubtful, and the remedy said.
func TestCheckAlikeBackdrop(t *testing.T) {
	d, warnings := checked(t, plainShoot(t, ellipse{200, 60, color.RGBA{67, 150, 69, 255}}))
	if d.Frames[0].Status != shoot.Found || !strings.Contains(d.Frames[0].Reason, "use another backdrop") ||
		!strings.Contains(warnings, "use another backdrop") {
		t.Errorf("%+v\n%s", d.Frames[0], warnings)
	}
}

// Frames of another camera are refused by their size; the others are judged.
func TestCheckOtherCamera(t *testing.T) {
	dir := plainShoot(t, ellipse{200, 60, dark})
	plainPicture(t, filepath.Join(dir, "IMG_2.JPG"), 400, 300, ellipse{200, 60, dark})
	d, _ := checked(t, dir)
	if d.Frames[0].Status != shoot.Found || d.Frames[1].Status != shoot.Refused ||
		!strings.Contains(d.Frames[1].Reason, "another camera") {
		t.Errorf("%+v", d.Frames)
	}
}

// Animals three times as long as the subject say that the scale is another's.
func TestCheckOtherScale(t *testing.T) {
	big := ellipse{230, 180, dark}
	if _, warnings := checked(t, plainShoot(t, big, big, big)); !strings.Contains(warnings,
		"is the scale of another camera place") {
		t.Errorf("warnings: %s", warnings)
	}
}

// The empty set is learned from the run where no frame of it is named.
func TestCheckWithoutEmptyFrame(t *testing.T) {
	var all []ellipse
	for x := 110; x < 440; x += 50 {
		all = append(all, ellipse{x, 60, dark})
	}
	dir := plainShoot(t, all...)
	swap(t, filepath.Join(dir, "shoot.toml"), "empty = \"EMPTY.JPG\"\n", "")
	if err := os.Remove(filepath.Join(dir, "EMPTY.JPG")); err != nil {
		t.Fatal(err)
	}
	d, _ := checked(t, dir)
	for i, f := range d.Frames {
		if want := float64(all[i].x+30-50) / 5; f.LeadMM == nil || *f.LeadMM < want-0.5 || *f.LeadMM > want+0.5 {
			t.Errorf("%s: lead %v, drawn %.1f mm", f.File, f.LeadMM, want)
		}
	}
}

func swap(t *testing.T, path, old, new string) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(text, []byte(old)) {
		t.Fatalf("%s has no %q", path, old)
	}
	if err := os.WriteFile(path, bytes.Replace(text, []byte(old), []byte(new), 1), 0o666); err != nil {
		t.Fatal(err)
	}
}

// A sidecar with a person's rating stays; --force replaces the rating alone.
func TestCheckKeepsRatings(t *testing.T) {
	dir := plainShoot(t, ellipse{200, 60, dark})
	path := filepath.Join(dir, "IMG_1.xmp")
	mine := `<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about="" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmp:Rating="-1" xmp:Label="night"/></rdf:RDF></x:xmpmeta>`
	if err := os.WriteFile(path, []byte(mine), 0o666); err != nil {
		t.Fatal(err)
	}
	before := digestOf(t, dir)
	checked(t, dir, "--xmp")
	if now, _ := os.ReadFile(path); string(now) != mine {
		t.Errorf("a person's rating was changed: %s", now)
	}
	d, _ := checked(t, dir, "--xmp", "--force")
	want := strings.Replace(mine, `"-1"`, fmt.Sprintf(`"%d"`, d.Frames[0].Rating), 1)
	if now, _ := os.ReadFile(path); string(now) != want {
		t.Errorf("with --force: %s", now)
	}
	if digestOf(t, dir) != before {
		t.Error("picture files were changed")
	}
}

// A folder without frames says what belongs there.
func TestCheckEmptyFolder(t *testing.T) {
	dir := plainShoot(t)
	if err := os.Remove(filepath.Join(dir, "EMPTY.JPG")); err != nil {
		t.Fatal(err)
	}
	swap(t, filepath.Join(dir, "shoot.toml"), "empty = \"EMPTY.JPG\"\n", "")
	var stdout, stderr bytes.Buffer
	if got := status([]string{"check", dir, "--lag-ms", "52", "--spread-ms", "0.5"}, &stdout,
		&stderr); got == statusResult || stdout.Len() > 0 || stderr.Len() == 0 {
		t.Errorf("exit status %d\n%s%s", got, stdout.String(), stderr.String())
	}
}

// Cut-outs go to a folder of their own, are opaque inside and clear outside, and have none of the
// backdrop's green; none is written over another, or among the frames.
func TestCheckCutouts(t *testing.T) {
	dir := plainShoot(t, ellipse{200, 60, color.RGBA{200, 140, 30, 255}})
	before := digestOf(t, dir)
	out := filepath.Join(t.TempDir(), "cut")
	checked(t, dir, "--cutouts", out)
	file, err := os.Open(filepath.Join(out, "IMG_1-cutout.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	img, _, err := image.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	b := img.Bounds()
	if _, _, _, a := img.At(b.Dx()/2, b.Dy()/2).RGBA(); a != 0xffff {
		t.Errorf("the animal's middle has opacity %d", a)
	}
	solid, soft := 0, 0
	for y := range b.Dy() {
		for x := range b.Dx() {
			c := color.NRGBAModel.Convert(img.At(x, y)).(color.NRGBA)
			switch {
			case c.A == 255:
				solid++
			case c.A > 0:
				soft++
			}
			if c.A > 0 && c.G > c.R+12 {
				t.Fatalf("at %d, %d the backdrop's green is left: %v", x, y, c)
			}
		}
	}
	if full := 3.14159 / 4 * 60 * 30; float64(solid) < 0.8*full || float64(solid+soft) > 1.35*full || soft == 0 {
		t.Errorf("%d solid and %d soft pixels; drawn %.0f", solid, soft, full)
	}
	for _, c := range []struct{ dir, say string }{{out, "is there already"}, {dir, "folder of the frames"}} {
		var stdout, stderr bytes.Buffer
		got := status([]string{"check", dir, "--lag-ms", "52", "--spread-ms", "0.5", "--out",
			filepath.Join(t.TempDir(), "out"), "--cutouts", c.dir}, &stdout, &stderr)
		if got != 2 || !strings.Contains(strings.Join(strings.Fields(stderr.String()), " "), c.say) {
			t.Errorf("cut-outs to %s: exit status %d\n%s", c.dir, got, stderr.String())
		}
	}
	if digestOf(t, dir) != before {
		t.Error("picture files were changed")
	}
}

// The loop closes: a plan for bees at 1.0 m/s, a shoot of bees that really fly at 1.55 m/s, a check
// that learns it, and a plan with what was learned. The second plan's reach holds its stated share
// of fresh animals, the first did not. The reach is judged by fresh trips of the drawing's own
// model, bodies as the box of nose, length and height; limits are those of a speed known from 16
// animals.
func TestTheLoopCloses(t *testing.T) {
	dir := plainShoot(t)
	set := animals.Set(4, 640, 360)
	set.Ground, set.Exit, set.Perch = animals.Green, false, true
	s := animals.Shoot{Set: set, Kind: animals.Bee, Scale: 5000, Trip: [2]float64{50, 150}, Length: 0.012,
		Speed: 1.55, SpeedSD: 0.12,
		ElevationSD: 0.05, Lag: 0.052, Spread: 0.0005, Exit: 0.002, Blur: 0.6, Seed: 11}
	swap(t, filepath.Join(dir, "shoot.toml"), "[50, 299]", "[50, 359]")
	drawTo := func(name string, scene animals.Scene) { drawScene(t, filepath.Join(dir, name), scene) }
	drawTo("EMPTY.JPG", s.Empty())
	for i := range 16 {
		scene, _, _ := s.Frame(i)
		drawTo(fmt.Sprintf("IMG_%02d.JPG", i), scene)
	}
	first, stated := shareInside(t, filepath.Join(dir, "bee.toml"), s)
	d, _ := checked(t, dir, "--learn")
	if d.Agreement == nil || d.Agreement.P > 0.05 || len(d.Advice) == 0 ||
		!strings.Contains(strings.Join(d.Advice, " "), "m/s") {
		t.Errorf("the first plan did not hold, and nothing was said: %+v %v", d.Agreement, d.Advice)
	}
	second, _ := shareInside(t, filepath.Join(dir, "bee-learned.toml"), s)
	t.Logf("stated %.3f; the first plan's reach holds %.3f of fresh animals, the second's %.3f", stated, first, second)
	if first > 0.7 || second < stated-0.06 {
		t.Error("the loop does not close")
	}
}

// shareInside plans with a subject's file and tells which share of fresh animals the reach holds,
// and which it states.
func shareInside(t *testing.T, subject string, s animals.Shoot) (share, stated float64) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if got := status([]string{"plan", "--subject", subject, "--lag-ms", "52", "--spread-ms", "0.5", "--json"},
		&stdout, &stderr); got != statusResult {
		t.Fatalf("planning: exit status %d\n%s", got, stderr.String())
	}
	var p struct {
		Reach struct {
			Probability float64    `json:"probability"`
			Along       [2]float64 `json:"along_mm"`
			Up          [2]float64 `json:"up_mm"`
		} `json:"reach"`
	}
	if err := json.Unmarshal(stdout.Bytes(), &p); err != nil {
		t.Fatal(err)
	}
	const fresh, height = 4000, 8.0
	n := 0
	for i := range fresh {
		_, along, up := s.Frame(100 + i)
		along, up = 1e3*along, 1e3*up
		if along <= p.Reach.Along[1] && along-1e3*s.Length >= p.Reach.Along[0] && up+height/2 <= p.Reach.Up[1] &&
			up-height/2 >= p.Reach.Up[0] {
			n++
		}
	}
	return float64(n) / fresh, p.Reach.Probability
}
