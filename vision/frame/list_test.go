package frame

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"leadmark/testdata"
	"leadmark/vision/frame/integrity"
)

// folder writes files into a new folder.
func folder(t *testing.T, files map[string][]byte) string {
	t.Helper()
	dir := t.TempDir()
	for name, data := range files {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestList(t *testing.T) {
	jpg, png := plainJPEG(t, 24, 16), plainPNG(t, 20, 10)
	dir := folder(t, map[string][]byte{
		"IMG_10.JPG": jpg, "IMG_9.jpg": jpg, "img_100.jpeg": jpg, "still.png": png,
		"IMG_9.tiff": tiffOf(24, 16, 24*16, nil, nil),
		"really.jpg": png, "run.toml": []byte("rig = 1"), "shots.csv": []byte("frame"),
		"result.json": []byte("{}"), ".hidden.jpg": jpg, "notes": jpg,
		"text.jpg": []byte("dear diary"), "empty.JPG": nil, "half.jpg": jpg[:len(jpg)/2],
		"IMG_9.nef": []byte("II*\x00"), "IMG_11.nef": []byte("II*\x00"),
		"IMG_12.heic": {0}, "IMG_13.CRW": {0}, "IMG_9.heic": {0}, "IMG_14.raf": []byte("FUJIFILM"),
		"IMG_14.dng": {0}, "IMG_14.HEIC": {0},
	})
	if err := os.Mkdir(filepath.Join(dir, "folder.jpg"), 0o755); err != nil {
		t.Fatal(err)
	}
	frames, refused, err := List(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	var names, why []string
	for _, f := range frames {
		names = append(names, f.Name+" "+f.Format)
		if f.Path != filepath.Join(dir, f.Name) || len(f.Digest) != 64 {
			t.Errorf("%s: path %q, digest %q", f.Name, f.Path, f.Digest)
		}
	}
	for _, r := range refused {
		why = append(why, r.Name+" "+r.Code)
		if r.Path != filepath.Join(dir, r.Name) || r.None() {
			t.Errorf("%+v", r)
		}
	}
	wantNames := []string{"IMG_9.jpg jpeg", "IMG_9.tiff tiff", "IMG_10.JPG jpeg",
		"img_100.jpeg jpeg", "really.jpg png", "still.png png"}
	wantWhy := []string{"empty.JPG empty", "half.jpg truncated", "IMG_11.nef truncated",
		"IMG_12.heic unsupported-format", "IMG_13.CRW unsupported-format",
		"IMG_14.raf not-a-picture", "text.jpg not-a-picture"}
	if !slices.Equal(names, wantNames) || !slices.Equal(why, wantWhy) {
		t.Errorf("frames %q\nrefused %q", names, why)
	}
}

func TestListOddFiles(t *testing.T) {
	dir := folder(t, map[string][]byte{"good.jpg": plainJPEG(t, 24, 16)})
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Skip(err)
		}
	}
	must(os.Symlink("nowhere", filepath.Join(dir, "lost.jpg")))
	must(os.Symlink("good.jpg", filepath.Join(dir, "linked.jpg")))
	must(os.Symlink(".", filepath.Join(dir, "linked-folder.jpg")))
	must(syscall.Mkfifo(filepath.Join(dir, "pipe.jpg"), 0o644))
	must(os.WriteFile(filepath.Join(dir, "huge.jpg"), nil, 0o644))
	must(os.Truncate(filepath.Join(dir, "huge.jpg"), integrity.MaxBytes+1)) // sparse: takes no room
	frames, refused, err := List(context.Background(), dir)
	if err != nil || len(frames) != 2 {
		t.Fatalf("%d frames, %v", len(frames), err)
	}
	got := map[string]string{}
	for _, r := range refused {
		got[r.Name] = r.Code
	}
	if len(got) != 3 || got["lost.jpg"] != "unreadable" || got["pipe.jpg"] != "unreadable" ||
		got["huge.jpg"] != "too-large" {
		t.Errorf("refused %v", got)
	}
}

func TestListNeedsAFolder(t *testing.T) {
	dir := folder(t, map[string][]byte{"a.jpg": plainJPEG(t, 24, 16)})
	for path, hint := range map[string]string{
		filepath.Join(dir, "missing"): "hint: check the path",
		filepath.Join(dir, "a.jpg"):   "hint: it is a file",
	} {
		_, _, err := List(context.Background(), path)
		if err == nil || !strings.Contains(err.Error(), path) ||
			!strings.Contains(err.Error(), "\n"+hint) {
			t.Errorf("%s: %v", path, err)
		}
	}
	stopped, stop := context.WithCancel(context.Background())
	stop()
	if _, _, err := List(stopped, dir); !errors.Is(err, context.Canceled) {
		t.Errorf("a stopped listing ended with %v", err)
	}
}

func TestOpenOne(t *testing.T) {
	dir := folder(t, map[string][]byte{"a.bin": plainPNG(t, 20, 10)})
	if f, bad := Open(filepath.Join(dir, "a.bin")); bad != nil || f.Name != "a.bin" ||
		f.Format != "png" {
		t.Errorf("%+v, %+v", f, bad)
	}
	if _, bad := Open(filepath.Join(dir, "b.jpg")); bad == nil || bad.Code != "unreadable" ||
		bad.Case != "missing" {
		t.Errorf("%+v", bad)
	}
}

// The digest of "abc" is the example of FIPS 180-4 (SHA-256); here it is taken of the whole file.
func TestDigestIsOfTheWholeFile(t *testing.T) {
	jpg := plainJPEG(t, 24, 16)
	a, b := mustInspect(t, "a", jpg), mustInspect(t, "b", append(slices.Clone(jpg), 0))
	if a.Digest == b.Digest {
		t.Error("a byte behind the end is not in the digest")
	}
}

// The photographs of real rulers come from several cameras and programs: all must be accepted.
func TestRealPhotographs(t *testing.T) {
	frames, refused, err := List(context.Background(), testdata.Photographs(t, "rulers"))
	if err != nil {
		t.Fatal(err)
	}
	if len(refused) > 0 || len(frames) < 11 {
		t.Errorf("%d accepted, refused: %+v", len(frames), refused)
	}
}
