package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"image"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/calib/shoot"
	"leadmark/testdata"
	"leadmark/vision/pixel/native"
	"leadmark/vision/synth/animals"
)

const beeTOML = `name = "mason bee"
length_mm = 12
height_mm = 8
width_mm = 8
motion = "straight"
speed_mps = 1.0
speed_sd_mps = 0.2
elevation_deg = 0
elevation_sd_deg = 4
azimuth_sd_deg = 0
exit_mm = [2, 2]
[sources]
speed_mps = "starting value, no source"
`

// drawScene draws one scene as a JPEG.
func drawScene(t *testing.T, path string, s animals.Scene) {
	t.Helper()
	img, _ := animals.Render(s)
	writeJPEG(t, path, img)
}

func writeJPEG(t *testing.T, path string, img image.Image) {
	t.Helper()
	data, err := native.Library{}.EncodeJPEG(img, 95)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
}

// drawShoot draws a shoot of bees at 10 px a millimetre, the trip line at x = 100: speeds about 1.3
// m/s, the lag 52 ms.
func drawShoot(t *testing.T, dir string, n int) (leads []float64) {
	t.Helper()
	const w, h, scale = 1000, 560, 10.0
	set := animals.Set(4, w, h)
	set.Ground, set.Exit, set.Perch = animals.Green, false, true
	write := func(name string, s animals.Scene) { drawScene(t, filepath.Join(dir, name), s) }
	empty := set
	empty.Seed = 99
	write("EMPTY.JPG", empty)
	r := rand.New(rand.NewPCG(5, 5))
	for i := range n {
		lead := (1.3 + 0.12*r.NormFloat64()) * 0.052
		s := set
		s.Seed, s.Gain = uint64(i+1), 1+0.03*r.NormFloat64()
		s.Animals = []animals.Animal{{Kind: animals.Bee, Length: 12 * scale,
			Nose: [2]float64{100 + lead*1e3*scale, 260 + 5*r.NormFloat64()}, Defocus: 0.7, Seed: uint32(i)}}
		write(fmt.Sprintf("IMG_%04d.JPG", i+1), s)
		leads = append(leads, lead*1e3)
	}
	text := "subject = \"bee.toml\"\ntravel = \"right\"\npx_per_mm = 10\nempty = \"EMPTY.JPG\"\nexit_px = " +
		"[100, 260]\n[trip]\nline_px = [[100, 0], [100, 559]]\n"
	for name, text := range map[string]string{"shoot.toml": text, "bee.toml": beeTOML} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return leads
}

func digestOf(t *testing.T, dir string) string {
	t.Helper()
	all, _ := filepath.Glob(filepath.Join(dir, "*.JPG"))
	h := sha256.New()
	for _, p := range all {
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		h.Write(data)
	}
	return fmt.Sprintf("%x", h.Sum(nil))
}

// A shoot whose bees are faster than planned: leads are found, the speed is learned, a new subject
// file is written beside the old one, pictures stay as they are, and ratings are read back by
// exiftool (Debian's libimage-exiftool-perl).
func TestCheckAShoot(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "bees")
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	leads := drawShoot(t, dir, 8)
	before := digestOf(t, dir)
	var stdout, stderr bytes.Buffer
	if got := status([]string{"check", dir, "--lag-ms", "52", "--spread-ms", "0.5", "--json", "--learn", "--xmp"},
		&stdout, &stderr); got != statusResult {
		t.Fatalf("exit status %d\n%s", got, stderr.String())
	}
	var d shoot.Document
	if err := json.Unmarshal(stdout.Bytes(), &d); err != nil {
		t.Fatal(err)
	}
	if len(d.Frames) != len(leads) {
		t.Fatalf("%d frames", len(d.Frames))
	}
	for i, f := range d.Frames {
		if f.Status != shoot.Found || f.LeadMM == nil || math.Abs(*f.LeadMM-leads[i]) > 0.3 || !*f.Whole {
			t.Errorf("%s: %s, lead %v, want %.2f", f.File, f.Status, f.LeadMM, leads[i])
		}
	}
	s := d.Subject
	if s == nil || s.SpeedMPS == nil || s.SpeedInterval[0] > 1.3 || s.SpeedInterval[1] < 1.3 {
		t.Errorf("learned %+v, the truth is 1.3 m/s", s)
	}
	learned, err := os.ReadFile(filepath.Join(dir, "bee-learned.toml"))
	if err != nil || !strings.Contains(string(learned), "before: 1, starting value, no source") {
		t.Errorf("the learned subject: %v\n%s", err, learned)
	}
	if old, _ := os.ReadFile(filepath.Join(dir, "bee.toml")); string(old) != beeTOML {
		t.Error("the old subject file was changed")
	}
	if digestOf(t, dir) != before {
		t.Error("picture files were changed")
	}
	for _, name := range []string{"shoot.json", "frames.csv", "contact.html"} {
		if _, err := os.Stat(filepath.Join(dir+"-check", name)); err != nil {
			t.Error(err)
		}
	}
	stdout.Reset()
	if got := status([]string{"plan", "--subject", filepath.Join(dir, "bee-learned.toml"), "--lag-ms", "52",
		"--spread-ms", "0.5"}, &stdout, &stderr); got != statusResult {
		t.Errorf("planning with the learned subject: %d\n%s", got, stderr.String())
	}
	readBack(t, filepath.Join(dir, "IMG_0001.xmp"), d.Frames[0].Rating)
}

func readBack(t *testing.T, path string, want int) {
	t.Helper()
	t.Run("exiftool", func(t *testing.T) {
		tool := testdata.Program(t, "exiftool", "libimage-exiftool-perl", "-ver")
		out, err := exec.Command(tool, "-s3", "-XMP-xmp:Rating", path).CombinedOutput()
		if err != nil || strings.TrimSpace(string(out)) != fmt.Sprint(want) {
			t.Errorf("exiftool reads %q (%v), want %d", out, err, want)
		}
	})
}

// Every bad input of a check has its message and its exit status, and prints nothing on standard output.
func TestWrongChecks(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "bees")
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	drawShoot(t, dir, 1)
	good, err := os.ReadFile(filepath.Join(dir, "shoot.toml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, old, new string
		flags          []string
		want           int
		say            string
	}{
		{"unknown key", "travel", "travle", nil, 2, "the nearest known key is travel"},
		{"no travel", "travel = \"right\"\n", "", nil, 2, "travel is not stated"},
		{"odd travel", "\"right\"", "\"onward\"", nil, 2, "it is left, right, up or down"},
		{"no scale", "px_per_mm = 10\n", "", nil, 2, "px_per_mm is not stated"},
		{"negative scale", "px_per_mm = 10", "px_per_mm = -10", nil, 2, "cannot be negative"},
		{"no such result", "px_per_mm = 10", "scale_from = \"nothing.json\"", nil, 2,
			"names nothing.json, which is not there"},
		{"no result", "px_per_mm = 10", "scale_from = \"bee.toml\"", nil, 2, "is no result of leadmark calibrate"},
		{"line along", "[[100, 0], [100, 559]]", "[[100, 0], [900, 0]]", nil, 2, "runs along the travel"},
		{"half a line", "[[100, 0], [100, 559]]", "[[100, 0]]", nil, 2, "is not two different points"},
		{"missing empty", "EMPTY.JPG", "NOWHERE.JPG", nil, 2, "not among the frames"},
		{"no backdrop", "empty = \"EMPTY.JPG\"\n", "", nil, 1, "photograph the set without an animal"},
		{"no subject", "subject = \"bee.toml\"\n", "", nil, 2, "subject is not stated"},
		{"subject missing", "bee.toml", "wasp.toml", nil, 2, "there is no such file"},
		{"force alone", "", "", []string{"--force"}, 2, "add --xmp"},
		{"nothing to learn", "", "", []string{"--learn"}, 1, "nothing was learned"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(string(good), c.old, c.new, 1)
			if err := os.WriteFile(filepath.Join(dir, "shoot.toml"), []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
			var stdout, stderr bytes.Buffer
			got := status(append([]string{"check", dir, "--lag-ms", "52", "--spread-ms", "0.5"}, c.flags...),
				&stdout, &stderr)
			plain := strings.Join(strings.Fields(stderr.String()), " ")
			if got != c.want || !strings.Contains(plain, c.say) || stdout.Len() > 0 {
				t.Errorf("exit status %d, want %d with %q\n%s%s", got, c.want, c.say, stdout.String(), plain)
			}
		})
	}
	empty := t.TempDir()
	var stdout, stderr bytes.Buffer
	if got := status([]string{"check", empty}, &stdout, &stderr); got != 2 ||
		!strings.Contains(stderr.String(), "shoot.toml") {
		t.Errorf("an empty folder: %d %s", got, stderr.String())
	}
}
