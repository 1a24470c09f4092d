package store_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"leadmark/calib/store"
	"leadmark/calib/store/storetest"
)

// tracedEnv makes the test's own program one that writes in the way that it names, into the folder
// where it runs.
const tracedEnv = "LEADMARK_TEST_KEEP"

func init() {
	if os.Getenv(tracedEnv) != "" {
		runtime.LockOSThread() // else calls are made from other threads each time, and cannot be counted
	}
}

func TestMain(m *testing.M) {
	if way := os.Getenv(tracedEnv); way != "" {
		dir, _ := os.Getwd()
		if err := ways()[way](filepath.Join(dir, "a")); err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

const wanted = "the new text\n"

// ways are all ways of writing a file.
func ways() map[string]func(path string) error {
	d := store.System()
	return map[string]func(path string) error{
		"replace": func(path string) error { return store.Replace(d, path, []byte(wanted)) },
		"one of many": func(path string) error {
			store.Cleanup(d, filepath.Dir(path))
			err := store.Way{Many: true}.Replace(d, path, store.Text([]byte(wanted)))
			return errors.Join(err, store.Settle(d, filepath.Dir(path)))
		},
		"create": func(path string) error { _, err := store.Create(d, path, []byte(wanted)); return err },
		"append": func(path string) error {
			_, err := store.Lines{Path: path, Most: 1000, Torn: "torn"}.Append(d,
				func([]byte) ([]byte, error) { return []byte(wanted), nil })
			return err
		},
		"folder": func(path string) error {
			err := store.Folder(path, func(dir string) error {
				return os.WriteFile(filepath.Join(dir, "b"),
					[]byte(wanted), 0o666)
			})
			if errors.Is(err, store.ErrFaster) {
				return nil
			}
			return err
		},
	}
}

// A program that writes is killed before each of its calls, and a disk that is full answers each of
// them. The file is as it was or as it was meant to be, and what is left behind goes with the next
// writing.
func TestEveryCallOfTheSystem(t *testing.T) {
	storetest.NeedStrace(t)
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	for way := range ways() {
		t.Run(way, func(t *testing.T) {
			dir := t.TempDir()
			p := storetest.Traced{Program: self, Env: []string{tracedEnv + "=" + way}, Dir: dir}
			before := start(t, dir, way)
			calls := p.Calls(t)
			after := state(dir)
			if before == after {
				t.Fatal("nothing is changed")
			}
			found := map[string]int{}
			for _, call := range calls {
				for _, how := range []string{"signal=KILL", "error=ENOSPC"} {
					start(t, dir, way)
					said, killed, failed := p.Stop(t, call, how)
					got := state(dir)
					found[got]++
					if killed != (how == "signal=KILL") {
						t.Errorf("%s at %s: killed %v, %v", how, call.Text, killed, failed)
					}
					if got != before && got != after {
						t.Errorf("%s at %s: there is\n%s\nsaid was %s", how, call.Text, got, said)
					}
					if !killed && failed != nil && got == after && !strings.Contains(said, "was written, but") {
						t.Errorf("%s at %s: it is written, and said was: %s", how, call.Text, said)
					}
					if err := ways()[way](filepath.Join(dir, "a")); err != nil {
						t.Errorf("%s at %s: afterwards: %v", how, call.Text, err)
					}
					if left := names(t, dir); left != "a" {
						t.Errorf("%s at %s left %s", how, call.Text, left)
					}
				}
			}
			t.Logf("%d calls, %d stops: %d times as it was, %d times as it was meant to be", len(calls),
				2*len(calls), found[before], found[after])
			if found[before] == 0 || found[after] == 0 {
				t.Error("it was never stopped on the way")
			}
		})
	}
}

// start empties a folder and puts what there is before.
func start(t *testing.T, dir, way string) string {
	t.Helper()
	if err := os.RemoveAll(filepath.Join(dir, "a")); err != nil {
		t.Fatal(err)
	}
	if way == "replace" || way == "unsynced" || way == "append" {
		put(t, filepath.Join(dir, "a"), "the old text\n")
	}
	return state(dir)
}

// state is what a reader finds.
func state(dir string) string {
	path := filepath.Join(dir, "a")
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		path = filepath.Join(path, "b")
	}
	text, err := os.ReadFile(path)
	return fmt.Sprintf("%v %s", err == nil, text)
}
