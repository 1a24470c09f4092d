package rig

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"leadmark/calib/record"
	"leadmark/calib/store"
)

func entry(note string) Entry {
	e := Entry{Accepted: time.Date(2026, 5, 3, 10, 0, 0, 0, time.UTC), RunSHA256: "abc", Note: note}
	e.Answer = record.Answer{Schema: record.Schema, Rig: "greenhouse", Determined: []string{"lag"},
		Lag: &record.LagEntry{ValueMS: 52.31, UMS: 0.18}}
	e.Remarks = record.Remarks{Warnings: []record.WarningEntry{}, Advice: []record.AdviceEntry{}}
	return e
}

func newStore(t *testing.T) (s Store, history string) {
	t.Helper()
	s = Store{Root: t.TempDir()}
	if _, err := s.New("greenhouse"); err != nil {
		t.Fatal(err)
	}
	return s, filepath.Join(s.Dir("greenhouse"), HistoryName)
}

func TestAppendOnlyAdds(t *testing.T) {
	s, history := newStore(t)
	var before []byte
	for i := range 3 {
		a, err := s.Append(t.Context(), "greenhouse", entry(fmt.Sprint("note ", i, " <&>")))
		if err != nil || a.Before != i || a.Again != (i > 0) || a.Torn != "" {
			t.Fatalf("%+v, %v", a, err)
		}
		text, err := os.ReadFile(history)
		if err != nil || !bytes.HasPrefix(text, before) || bytes.Count(text, []byte("\n")) != i+1 {
			t.Fatalf("%v\n%s", err, text)
		}
		before = text
	}
	h, err := s.History("greenhouse")
	if err != nil || len(h.Entries) != 3 || len(h.Damaged) != 0 || h.Entries[2].Note != "note 2 <&>" ||
		h.Entries[0].Lag.ValueMS != 52.31 {
		t.Errorf("%+v, %v", h, err)
	}
	entries, _ := os.ReadDir(s.Dir("greenhouse"))
	if len(entries) != 2 {
		t.Errorf("only rig.toml and calibrations.jsonl should be there: %v", entries)
	}
}

// A crash in the middle of a write leaves a last line without its end.
func TestTornLineIsMovedAsideAndSaid(t *testing.T) {
	whole, err := entry("whole").line()
	if err != nil {
		t.Fatal(err)
	}
	for cut := 1; cut < len(whole)-1; cut += 7 {
		s, history := newStore(t)
		if err := os.WriteFile(history, append(append([]byte{}, whole...), whole[:cut]...), 0o666); err != nil {
			t.Fatal(err)
		}
		h, err := s.History("greenhouse")
		if err != nil || len(h.Entries) != 1 || len(h.Damaged) != 1 || !h.Damaged[0].Torn || h.Damaged[0].Line != 2 {
			t.Fatalf("cut %d: %+v, %v", cut, h, err)
		}
		a, err := s.Append(t.Context(), "greenhouse", entry("next"))
		if err != nil || a.Torn == "" || a.Before != 1 {
			t.Fatalf("cut %d: %+v, %v", cut, a, err)
		}
		if torn, _ := os.ReadFile(a.Torn); !bytes.Equal(torn, whole[:cut]) {
			t.Errorf("cut %d: the torn line was not kept: %q", cut, torn)
		}
		h, err = s.History("greenhouse")
		if err != nil || len(h.Entries) != 2 || len(h.Damaged) != 0 {
			t.Errorf("cut %d: %+v, %v", cut, h, err)
		}
	}
}

// An editor may take the end off the last line; the line itself is whole and stays.
func TestWholeLastLineWithoutItsEndStays(t *testing.T) {
	s, history := newStore(t)
	whole, _ := entry("whole").line()
	if err := os.WriteFile(history, bytes.TrimSuffix(whole, []byte("\n")), 0o666); err != nil {
		t.Fatal(err)
	}
	a, err := s.Append(t.Context(), "greenhouse", entry("next"))
	if err != nil || a.Torn != "" {
		t.Fatalf("%+v, %v", a, err)
	}
	if h, _ := s.History("greenhouse"); len(h.Entries) != 2 || h.Entries[0].Note != "whole" {
		t.Errorf("%+v", h)
	}
}

func TestADamagedLineInTheMiddleIsNamedAndKept(t *testing.T) {
	s, history := newStore(t)
	whole, _ := entry("whole").line()
	text := string(whole) + "not a calibration\n" + string(whole)
	if err := os.WriteFile(history, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Append(t.Context(), "greenhouse", entry("next")); err != nil {
		t.Fatal(err)
	}
	after, _ := os.ReadFile(history)
	if !strings.HasPrefix(string(after), text) {
		t.Errorf("what was there was changed:\n%s", after)
	}
	if h, _ := s.History("greenhouse"); len(h.Entries) != 3 || len(h.Damaged) != 1 || h.Damaged[0].Line != 2 ||
		h.Damaged[0].Torn {
		t.Errorf("%+v", h)
	}
}

func TestAFailedAppendChangesNothing(t *testing.T) {
	s, history := newStore(t)
	if _, err := s.Append(t.Context(), "nowhere", entry("x")); err == nil {
		t.Error("a rig that does not exist took a calibration")
	}
	if _, err := os.Stat(s.Dir("nowhere")); !os.IsNotExist(err) {
		t.Error("a folder was made for a rig that does not exist")
	}
	if err := os.Mkdir(history, 0o777); err != nil { // a folder where the file should be: also root cannot write it
		t.Fatal(err)
	}
	before, _ := os.ReadDir(s.Dir("greenhouse"))
	if err := s.Ready("greenhouse"); err == nil {
		t.Error("Ready did not see that the calibration could not be kept")
	}
	if _, err := s.Append(t.Context(), "greenhouse", entry("x")); err == nil {
		t.Error("no error")
	}
	if after, _ := os.ReadDir(s.Dir("greenhouse")); len(after) != len(before) {
		t.Errorf("%v, before %v", after, before)
	}
}

// A full disk is played by a file size limit: the write fails half way, and the bytes go back.
func TestAHalfWrittenLineIsTakenBack(t *testing.T) {
	if dir := os.Getenv("RIG_TEST_FULL"); dir != "" {
		limitFileSize(t, os.Getenv("RIG_TEST_LIMIT"))
		if _, err := (Store{Root: dir}).Append(t.Context(), "greenhouse", entry("does not fit")); err == nil {
			t.Error("no error")
		}
		return
	}
	whole, _ := entry("whole").line()
	for name, text := range map[string][]byte{"none": nil, "whole": whole,
		"torn": append(append([]byte{}, whole...), whole[:40]...)} {
		t.Run(name, func(t *testing.T) {
			s, history := newStore(t)
			if text != nil {
				if err := os.WriteFile(history, text, 0o666); err != nil {
					t.Fatal(err)
				}
			}
			c := exec.Command(os.Args[0], "-test.run=^TestAHalfWrittenLineIsTakenBack$")
			c.Env = append(os.Environ(), "RIG_TEST_FULL="+s.Root, fmt.Sprint("RIG_TEST_LIMIT=", len(text)+30))
			if out, err := c.CombinedOutput(); err != nil {
				t.Fatalf("%v\n%s", err, out)
			}
			after, err := os.ReadFile(history)
			if text == nil != os.IsNotExist(err) || !bytes.Equal(after, text) {
				t.Errorf("before %q, after %q, %v", text, after, err)
			}
			if entries, _ := os.ReadDir(s.Dir("greenhouse")); text == nil && len(entries) != 1 || text != nil &&
				len(entries) != 2 {
				t.Errorf("left behind: %v", entries)
			}
		})
	}
}

// Two processes append at once, many times: every line is there and whole, and each was made of the
// history as it was then, so that no two saw as many lines before theirs.
func TestTwoProcessesAppend(t *testing.T) {
	const each = 25
	if dir := os.Getenv("RIG_TEST_APPEND"); dir != "" {
		for i := range each {
			a, err := (Store{Root: dir}).Append(t.Context(), "greenhouse", entry(fmt.Sprint(os.Getpid(), " ", i)))
			if err != nil {
				t.Fatal(err)
			}
			fmt.Println("lines before:", a.Before)
		}
		return
	}
	s, _ := newStore(t)
	var running []*exec.Cmd
	var said [2]bytes.Buffer
	for i := range 2 {
		c := exec.Command(os.Args[0], "-test.run=^TestTwoProcessesAppend$")
		c.Env, c.Stdout = append(os.Environ(), "RIG_TEST_APPEND="+s.Root), &said[i]
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		running = append(running, c)
	}
	for _, c := range running {
		if err := c.Wait(); err != nil {
			t.Fatal(err)
		}
	}
	h, err := s.History("greenhouse")
	if err != nil || len(h.Entries) != 2*each || len(h.Damaged) != 0 {
		t.Fatalf("%d entries, damaged %v, %v", len(h.Entries), h.Damaged, err)
	}
	before := map[string]bool{}
	for line := range strings.Lines(said[0].String() + said[1].String()) {
		if strings.HasPrefix(line, "lines before:") {
			before[line] = true
		}
	}
	if len(before) != 2*each {
		t.Errorf("only %d different numbers of lines were seen before", len(before))
	}
	seen := map[string]bool{}
	for _, e := range h.Entries {
		seen[e.Note] = true
	}
	if len(seen) != 2*each {
		t.Errorf("%d different entries", len(seen))
	}
}

// A line is added only when nobody else is at the history.
func TestAppendWaitsForTheLock(t *testing.T) {
	s, _ := newStore(t)
	unlock, err := store.Lock(t.Context(), filepath.Join(s.Dir("greenhouse"), DescriptionName))
	if err != nil {
		t.Fatal(err)
	}
	waits, done := make(chan bool), make(chan error, 1)
	ctx := store.WithPatience(t.Context(), store.Patience{Quiet: time.Millisecond, Most: time.Minute,
		Tell: func(string, time.Duration) { close(waits) }})
	go func() {
		_, err := s.Append(ctx, "greenhouse", entry("second"))
		done <- err
	}()
	select {
	case err := <-done:
		t.Fatalf("the line was added under another's lock: %v", err)
	case <-waits:
	}
	if h, err := s.History("greenhouse"); err != nil || len(h.Entries) != 0 {
		t.Errorf("%d lines under another's lock, %v", len(h.Entries), err)
	}
	if err := unlock(); err != nil {
		t.Fatal(err)
	}
	if err := <-done; err != nil {
		t.Error(err)
	}
}
