package store_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"leadmark/calib/input"
	"leadmark/calib/store"
	"leadmark/calib/store/storetest"
)

// put writes a file that a test needs.
func put(t *testing.T, path, text string) string {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// holds says that a file does not hold what it should.
func holds(t *testing.T, path, want string) {
	t.Helper()
	if text, err := os.ReadFile(path); err != nil || string(text) != want {
		t.Errorf("%s holds %d bytes, %.40q (%v), not %.40q", filepath.Base(path), len(text), text, err, want)
	}
}

// names lists a folder.
func names(t *testing.T, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return strings.Join(all, " ")
}

// A file is made and the program killed after any step; then it is replaced on a disk on which any
// step fails. It is never lost: it reads as it was made or as it was meant to be.
func TestAKillAndAFullDiskLoseNothing(t *testing.T) {
	const mine, next = "what a person wrote", "and more"
	tries := 0
	for kill := 1; ; kill++ {
		for fail := 1; ; fail++ {
			dir := t.TempDir()
			path := filepath.Join(dir, "shots.csv")
			first := storetest.New(kill, storetest.Kill)
			_, _ = store.Create(first, path, []byte(mine))
			if !first.Failed() {
				t.Logf("%d tries", tries)
				return
			}
			_, there := os.Lstat(path)
			full := storetest.New(fail, storetest.Stuck)
			err := store.Replace(full, path, []byte(next))
			if !full.Failed() {
				if err != nil {
					t.Errorf("kill %d: the next writing fails: %v", kill, err)
				}
				holds(t, path, next)
				if left := names(t, dir); left != "shots.csv" {
					t.Errorf("kill %d: left behind: %s", kill, left)
				}
				break
			}
			tries++
			text, _ := os.ReadFile(path)
			if got := string(text); there == nil && got != mine && got != next || there != nil && got != "" &&
				got != next {
				t.Errorf("kill after %q, then no disk from %q on: the file holds %q", first.Steps()[kill-1],
					full.Steps()[fail-1], got)
			}
		}
	}
}

// What a version up to 0.9.1 left where it was killed is a second name of the person's file. A full
// disk and another writer find it.
func TestTheSecondNameOfAnOlderVersion(t *testing.T) {
	for fail := 1; ; fail++ {
		dir := t.TempDir()
		path := put(t, filepath.Join(dir, "shots.csv"), "what a person wrote")
		if err := os.Link(path, filepath.Join(dir, ".shots.csv.part")); err != nil {
			t.Skipf("no links here: %v", err)
		}
		d := storetest.New(fail, storetest.Full)
		err := store.Replace(d, path, []byte("and more"))
		if !d.Failed() {
			holds(t, path, "and more")
			if left := names(t, dir); left != "shots.csv" {
				t.Errorf("left behind: %s", left)
			}
			return
		}
		if text, _ := os.ReadFile(path); string(text) != "what a person wrote" && string(text) != "and more" {
			t.Errorf("disk full at %q: the file holds %q, and what is told is: %v", d.Steps()[fail-1], text, err)
		}
	}
}

// Links that somebody planted at names of parts lead nowhere, and stay.
func TestPlantedLinks(t *testing.T) {
	for what, do := range map[string]func(path string) error{
		"replace": func(path string) error { return store.Replace(store.System(), path, []byte("new")) },
		"create":  func(path string) error { _, err := store.Create(store.System(), path, []byte("new")); return err },
		"unsynced": func(path string) error {
			return store.Way{Many: true}.Replace(store.System(), path, store.Text([]byte("new")))
		},
		"folder": func(path string) error { return store.Folder(path, func(dir string) error { return nil }) },
		"append": func(path string) error {
			_, err := store.Lines{Path: path, Most: 100, Torn: "torn"}.Append(store.System(),
				func([]byte) ([]byte, error) { return []byte("{}\n"), nil })
			return err
		},
	} {
		t.Run(what, func(t *testing.T) {
			victim := put(t, filepath.Join(t.TempDir(), "letter.txt"), "a letter")
			dir := t.TempDir()
			planted := []string{".a.part", "a.part", ".a.leadmark-abcdefghij234567.part",
				fmt.Sprintf("a.part%d", os.Getpid()), "torn.1"}
			for _, name := range planted {
				if err := os.Symlink(victim, filepath.Join(dir, name)); err != nil {
					t.Skipf("no links here: %v", err)
				}
			}
			if err := do(filepath.Join(dir, "a")); err != nil {
				t.Error(err)
			}
			holds(t, victim, "a letter")
			for _, name := range planted {
				if _, err := os.Readlink(filepath.Join(dir, name)); err != nil {
					t.Errorf("%s: %v", name, err)
				}
			}
		})
	}
}

// Where a link stands in the place of a file, what it leads to is not written.
func TestALinkInThePlaceOfAFile(t *testing.T) {
	for _, dangling := range []bool{false, true} {
		victim := filepath.Join(t.TempDir(), "letter.txt")
		if !dangling {
			put(t, victim, "a letter")
		}
		dir := t.TempDir()
		for _, name := range []string{"replaced", "created", "lines", "made"} {
			if err := os.Symlink(victim, filepath.Join(dir, name)); err != nil {
				t.Skipf("no links here: %v", err)
			}
		}
		if err := store.Replace(store.System(), filepath.Join(dir, "replaced"), []byte("new")); err != nil {
			t.Error(err)
		}
		if made, err := store.Create(store.System(), filepath.Join(dir, "created"), []byte("new")); made || err != nil {
			t.Error(made, err)
		}
		_, err := store.Lines{Path: filepath.Join(dir, "lines"), Most: 100}.Append(store.System(),
			func([]byte) ([]byte, error) { return []byte("{}\n"), nil })
		refused(t, "append", err, "is a link")
		if err := store.Folder(filepath.Join(dir, "made"), func(string) error { return nil }); !errors.Is(err,
			store.ErrFaster) {
			t.Error(err)
		}
		if dangling {
			if _, err := os.Lstat(victim); err == nil {
				t.Error("a file was made elsewhere")
			}
			continue
		}
		holds(t, victim, "a letter")
	}
}

// refused wants an error that names the file and what to do.
func refused(t *testing.T, what string, err error, words string) {
	t.Helper()
	var known *input.Error
	if !errors.As(err, &known) || known.File == "" || known.Hint == "" || !strings.Contains(known.What, words) {
		t.Errorf("%s: %v", what, err)
	}
}

// makers let six make one file at once, and say what was wrong.
func makers(t *testing.T, path string, make func(text string) (bool, error)) {
	t.Helper()
	const n = 6
	var made [n]bool
	var errs [n]error
	var wait sync.WaitGroup
	begin := new(sync.WaitGroup)
	begin.Add(1)
	text := func(i int) string { return strings.Repeat(fmt.Sprintf("writer %d\n", i), 3000+500*i) }
	for i := range n {
		wait.Go(func() {
			begin.Wait()
			made[i], errs[i] = make(text(i))
		})
	}
	begin.Done()
	wait.Wait()
	winners := 0
	for i := range n {
		if made[i] {
			winners++
			holds(t, path, text(i))
		}
		if errs[i] != nil && (made[i] || !errors.Is(errs[i], store.ErrFaster)) {
			t.Errorf("maker %d: made %v, %v", i, made[i], errs[i])
		}
	}
	if winners != 1 {
		t.Errorf("%d of %d say that they made it", winners, n)
	}
}

// Six make one file, 1,000 times: one says that it did and the file holds its text; the others say
// who was faster.
func TestSixMakers(t *testing.T) {
	dir := t.TempDir()
	for round := range 1000 {
		path := filepath.Join(dir, "bee.toml")
		makers(t, path, func(text string) (bool, error) {
			return store.Way{Many: true}.Create(store.System(), path, store.Text([]byte(text)))
		})
		if left := names(t, dir); left != "bee.toml" {
			t.Errorf("left behind: %s", left)
		}
		if t.Failed() {
			t.Fatalf("in round %d", round+1)
		}
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
	}
}

// Six make one folder: one says so, and it holds that one's file alone.
func TestSixMakersOfAFolder(t *testing.T) {
	dir := t.TempDir()
	for range 50 {
		path := filepath.Join(dir, "report")
		makers(t, filepath.Join(path, "page"), func(text string) (bool, error) {
			err := store.Folder(path, func(dir string) error {
				return os.WriteFile(filepath.Join(dir, "page"),
					[]byte(text), 0o666)
			})
			return err == nil, err
		})
		if left := names(t, dir); left != "report" {
			t.Errorf("left behind: %s", left)
		}
		if err := os.RemoveAll(path); err != nil || t.Failed() {
			t.Fatal(err)
		}
	}
}

// Six replace one file over and over: whoever reads finds one text, whole.
func TestSixReplacers(t *testing.T) {
	path := put(t, filepath.Join(t.TempDir(), "shots.csv"), "")
	var wait sync.WaitGroup
	for i := range 6 {
		text := []byte(strings.Repeat(fmt.Sprintf("writer %d\n", i), 1000+700*i))
		wait.Go(func() {
			for range 100 {
				if err := (store.Way{Many: true}).Replace(store.System(), path, store.Text(text)); err != nil {
					t.Error(err)
				}
				got, err := os.ReadFile(path)
				first, _, _ := strings.Cut(string(got), "\n")
				if err != nil || strings.Count(string(got), first+"\n")*len(first+"\n") != len(got) {
					t.Errorf("a mixture of %d bytes, %v", len(got), err)
				}
			}
		})
	}
	wait.Wait()
	if left := names(t, filepath.Dir(path)); left != "shots.csv" {
		t.Errorf("left behind: %s", left)
	}
}

// leftovers are what killed programs leave, and what only looks like it.
func TestCleanup(t *testing.T) {
	dir := t.TempDir()
	mine := put(t, filepath.Join(dir, "rig.toml"), "mine")
	second := filepath.Join(dir, ".rig.toml.leadmark-aaaaaaaaaaaaaaaa.part")
	dead := put(t, filepath.Join(dir, ".rig.toml.leadmark-bbbbbbbbbbbbbbbb.part"), "half")
	folder := filepath.Join(dir, ".report.leadmark-cccccccccccccccc.part")
	theirs := put(t, filepath.Join(dir, ".film.mp4.part"), "another program's")
	near := put(t, filepath.Join(dir, "rig.toml.leadmark-dddddddddddddddd.part"), "not hidden")
	if err := errors.Join(os.Link(mine, second), os.Mkdir(folder, 0o777)); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(folder, "page"), "half")
	store.Cleanup(store.System(), dir)
	for _, path := range []string{second, dead, folder} {
		if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s is still there", filepath.Base(path))
		}
	}
	holds(t, mine, "mine")
	holds(t, theirs, "another program's")
	holds(t, near, "not hidden")
}

// What a program is at is not swept away, while it writes and while it waits for its name.
func TestCleanupLeavesWhatIsBeingWritten(t *testing.T) {
	dir := t.TempDir()
	sweep := func() { store.Cleanup(store.System(), dir) }
	during := func(d store.Disk) store.Disk { return sweeping{d, sweep} }
	if err := store.Replace(during(store.System()), filepath.Join(dir, "a"), []byte("x")); err != nil {
		t.Error(err)
	}
	if made, err := store.Create(during(store.System()), filepath.Join(dir, "b"), []byte("x")); !made || err != nil {
		t.Error(made, err)
	}
	err := store.Folder(filepath.Join(dir, "c"), func(part string) error {
		sweep()
		return os.WriteFile(filepath.Join(part, "page"), nil, 0o666)
	})
	if err != nil {
		t.Error(err)
	}
	if left := names(t, dir); left != "a b c" {
		t.Errorf("there is now %s", left)
	}
}

// sweeping is a disk on which another program sweeps before every step.
type sweeping struct {
	store.Disk
	sweep func()
}

func (s sweeping) OpenFile(path string, flag int, mode fs.FileMode) (store.File, error) {
	s.sweep()
	f, err := s.Disk.OpenFile(path, flag, mode)
	return sweepingFile{f, s.sweep}, err
}
func (s sweeping) Rename(from, to string) error { s.sweep(); return s.Disk.Rename(from, to) }
func (s sweeping) Link(from, to string) error   { s.sweep(); return s.Disk.Link(from, to) }
func (s sweeping) Remove(path string) error     { s.sweep(); return s.Disk.Remove(path) }

type sweepingFile struct {
	store.File
	sweep func()
}

func (f sweepingFile) Write(p []byte) (int, error) { f.sweep(); return f.File.Write(p) }
func (f sweepingFile) Sync() error                 { f.sweep(); return f.File.Sync() }
func (f sweepingFile) Close() error                { f.sweep(); return f.File.Close() }

// The part of a version up to 0.9.1 goes when it is old, for that version locks none.
func TestTheOldPartOfAnOlderVersion(t *testing.T) {
	for _, old := range []bool{true, false} {
		dir := t.TempDir()
		part := put(t, filepath.Join(dir, ".a.part"), "half")
		if old {
			if err := os.Chtimes(part, time.Time{}, time.Now().Add(-48*time.Hour)); err != nil {
				t.Fatal(err)
			}
		}
		if err := store.Replace(store.System(), filepath.Join(dir, "a"), []byte("x")); err != nil {
			t.Error(err)
		}
		if _, err := os.Lstat(part); (err == nil) == old {
			t.Errorf("old %v: %v", old, err)
		}
	}
}
