package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"

	"leadmark/calib/read"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// ownDisk is a folder on a disk of its own in memory, of 64 MB; the test is skipped where none may
// be mounted.
func ownDisk(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=64m"); err != nil {
		t.Skipf("only root may mount a disk: %v", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) })
	return dir
}

func fillDisk(t *testing.T, dir string) {
	t.Helper()
	f, err := os.Create(filepath.Join(dir, "large"))
	if err != nil {
		t.Fatal(err)
	}
	for n := 1 << 20; n > 0; {
		if _, err = f.Write(make([]byte, n)); err != nil {
			n /= 2
		}
	}
	if !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("the disk is not full: %v", err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

// plainLook looks as the program does.
func plainLook(a *app) read.LookFunc { return a.Look }

// With the disk of the run full, or one that can only be read, calibrate answers as ever and adds
// the calibration to the rig; one note says what could not be remembered. So it does where there is
// no room for temporary files either.
func TestCalibrateWhereNothingCanBeRemembered(t *testing.T) {
	from := smallRun(t, 5)
	want := resultOf(t, from)
	for what, spoil := range map[string]func(t *testing.T, disk string){
		"full": func(t *testing.T, disk string) { fillDisk(t, disk) },
		"full, and so are temporary files": func(t *testing.T, disk string) {
			fillDisk(t, disk)
			t.Setenv("TMPDIR", disk)
		},
		"read-only": func(t *testing.T, disk string) {
			if err := syscall.Mount("", disk, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
				t.Fatal(err)
			}
		},
	} {
		for when, looks := range map[string]int{"before": 0, "while the frames are read": 4} {
			if looks > 0 && what == "read-only" {
				continue // it would be busy
			}
			t.Run(what+", "+when, func(t *testing.T) {
				disk, home := ownDisk(t), t.TempDir()
				dir := filepath.Join(disk, "night")
				if err := os.CopyFS(dir, os.DirFS(from)); err != nil {
					t.Fatal(err)
				}
				rigs := filepath.Join(home, "rigs")
				if err := run(context.Background(), []string{"rig", "new", "greenhouse", "--rigs", rigs},
					&bytes.Buffer{}, &bytes.Buffer{}); err != nil {
					t.Fatal(err)
				}
				t.Setenv("TMPDIR", t.TempDir())
				got, said := calibratedBy(t, spoiledAt(t, looks, func() { spoil(t, disk) }), dir, "--out",
					filepath.Join(home, "report"), "--rigs", rigs, "--rig", "greenhouse", "--accept")
				sameAnswer(t, want, got)
				if strings.Count(said, "note: ") != 1 ||
					!strings.Contains(said, "cannot be remembered in "+filepath.Join(disk, ".night.seen")) {
					t.Errorf("said: %s", said)
				}
				if lines := contentOf(t, filepath.Join(rigs, "greenhouse",
					"calibrations.jsonl")); bytes.Count(lines, []byte("\n")) != 1 {
					t.Errorf("%d calibrations were added", bytes.Count(lines, []byte("\n")))
				}
				if entries, _ := os.ReadDir(os.TempDir()); strings.Contains(namesOf(entries), "leadmark-") {
					t.Errorf("left behind: %s", namesOf(entries))
				}
			})
		}
	}
}

// spoiledAt looks as the program does, and does something when so many looks have begun; at once
// for none.
func spoiledAt(t *testing.T, looks int, spoil func()) func(a *app) read.LookFunc {
	t.Helper()
	if looks == 0 {
		spoil()
		return plainLook
	}
	var begun atomic.Int32
	return func(a *app) read.LookFunc {
		look := a.Look
		return func(ctx context.Context, f frame.Frame, h ruler.Hint) (ruler.Sighting, error) {
			if begun.Add(1) == int32(looks) {
				spoil()
			}
			return look(ctx, f, h)
		}
	}
}

func namesOf(entries []os.DirEntry) string {
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return strings.Join(names, " ")
}

// What was remembered on a disk that can only be read now is used.
func TestWhatIsRememberedOnAReadOnlyDiskIsUsed(t *testing.T) {
	disk, home := ownDisk(t), t.TempDir()
	dir := filepath.Join(disk, "night")
	if err := os.CopyFS(dir, os.DirFS(smallRun(t, 5))); err != nil {
		t.Fatal(err)
	}
	want, _ := calibratedBy(t, plainLook, dir, "--out", filepath.Join(home, "one"))
	if err := syscall.Mount("", disk, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Fatal(err)
	}
	got, said := calibratedBy(t, func(*app) read.LookFunc {
		return func(_ context.Context, f frame.Frame, _ ruler.Hint) (ruler.Sighting, error) {
			t.Errorf("%s was looked at again", f.Name)
			return ruler.Sighting{}, nil
		}
	}, dir, "--out", filepath.Join(home, "two"))
	sameAnswer(t, want, got)
	if strings.Count(said, "note: ") != 1 {
		t.Errorf("said: %s", said)
	}
}
