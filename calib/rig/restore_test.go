package rig

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"leadmark/calib/input"
	"leadmark/calib/record"
)

// nightly is a calibration of its own run, accepted on a day of May 2026.
func nightly(day int, lagMS float64, s *Setup) Entry {
	e := entry(fmt.Sprint("night ", day))
	e.Accepted = time.Date(2026, 5, day, 22, 15, 0, 0, time.UTC)
	e.RunSHA256 = fmt.Sprint("run ", day)
	e.Lag = &record.LagEntry{ValueMS: lagMS, UMS: 0.18, DF: 20, Interval95: &[2]float64{lagMS - 0.375, lagMS + 0.375}}
	e.Spread = &record.SpreadEntry{ValueMS: 0.8, DF: 20, Interval95: &[2]float64{0.61, 1.16}}
	e.Setup = s
	return e
}

func fill(t *testing.T, s Store, entries ...Entry) {
	t.Helper()
	for _, e := range entries {
		if _, err := s.Append(t.Context(), "greenhouse", e); err != nil {
			t.Fatal(err)
		}
	}
}

func force(t *testing.T, s Store) InForce {
	t.Helper()
	h, err := s.History("greenhouse")
	if err != nil {
		t.Fatal(err)
	}
	f, _ := h.InForce()
	return f
}

func TestRestoreOnlyAddsALine(t *testing.T) {
	s, history := newStore(t)
	at := time.Date(2026, 6, 1, 8, 0, 0, 0, time.UTC)
	fill(t, s, nightly(1, 52.3, nil), nightly(2, 52.1, nil), nightly(3, 55, nil))
	before, _ := os.ReadFile(history)
	if _, err := s.Restore(t.Context(), "greenhouse", 2, at, "flat battery <&>"); err != nil {
		t.Fatal(err)
	}
	after, _ := os.ReadFile(history)
	if !bytes.HasPrefix(after, before) || bytes.Count(after, []byte("\n")) != 4 {
		t.Errorf("not only a line was added:\n%s", after)
	}
	if f := force(t, s); f.Number != 2 || f.Entry.Note != "night 2" || f.Restored == nil ||
		f.Why() != "put back on 1 June 2026 08:00: flat battery <&>" {
		t.Errorf("%+v, %s", f, f.Why())
	}
	if _, err := s.Restore(t.Context(), "greenhouse", 1, at, ""); err != nil {
		t.Fatal(err)
	}
	if f := force(t, s); f.Number != 1 {
		t.Errorf("the later restore counts: %+v", f)
	}
	fill(t, s, nightly(4, 52.2, nil))
	if f := force(t, s); f.Number != 4 || f.Restored != nil {
		t.Errorf("what was accepted after it counts: %+v", f)
	}
	if _, err := s.Restore(t.Context(), "greenhouse", 3, at, ""); err != nil {
		t.Fatal(err)
	}
	if f := force(t, s); f.Number != 3 {
		t.Errorf("%+v", f)
	}
	h, _ := s.History("greenhouse")
	if len(h.Entries) != 4 || len(h.Restores) != 3 || len(h.Damaged) != 0 {
		t.Errorf("%d, %d, %v", len(h.Entries), len(h.Restores), h.Damaged)
	}
}

func TestRestoreThatCannotBeChangesNothing(t *testing.T) {
	s, history := newStore(t)
	if _, err := s.Restore(t.Context(), "greenhouse", 1, time.Now(), ""); err == nil {
		t.Error("a calibration that is not there was put back")
	}
	if _, err := os.Stat(history); !os.IsNotExist(err) {
		t.Error("a history was made")
	}
	fill(t, s, nightly(1, 52.3, nil), nightly(2, 52.1, nil))
	before, _ := os.ReadFile(history)
	for _, n := range []int{-1, 0, 2, 3} { // 2 is in force already
		_, err := s.Restore(t.Context(), "greenhouse", n, time.Now(), "")
		var wrong *input.Error
		if !errors.As(err, &wrong) {
			t.Errorf("%d: %v", n, err)
		}
	}
	if after, _ := os.ReadFile(history); !bytes.Equal(before, after) {
		t.Errorf("changed:\n%s", after)
	}
}

// A torn line before it, which a later program may find again, must not make a restore mean another
// calibration: it is found by its time and run.
func TestRestoreMeansTheSameAfterALineIsLost(t *testing.T) {
	s, history := newStore(t)
	fill(t, s, nightly(1, 52.3, nil), nightly(2, 52.1, nil), nightly(3, 55, nil))
	if _, err := s.Restore(t.Context(), "greenhouse", 2, time.Now(), ""); err != nil {
		t.Fatal(err)
	}
	text, _ := os.ReadFile(history)
	lines := strings.SplitAfter(string(text), "\n")
	h := ParseHistory([]byte("broken\n" + strings.Join(lines[1:], "")))
	if f, _ := h.InForce(); f.Number != 1 || f.Entry.Note != "night 2" || len(h.Damaged) != 1 {
		t.Errorf("%+v, %v", f, h.Damaged)
	}
	h = ParseHistory([]byte(lines[0] + "broken\n" + strings.Join(lines[2:], "")))
	if f, _ := h.InForce(); f.Entry.Note != "night 3" || len(h.Damaged) != 2 ||
		!strings.Contains(h.Damaged[1].What, "not among those before it") {
		t.Errorf("%+v, %v", f, h.Damaged)
	}
}

func TestSetupsHaveTheirOwnInForce(t *testing.T) {
	a, b := &Setup{Body: "Bench 7"}, &Setup{Body: "Bench 8"}
	s, _ := newStore(t)
	fill(t, s, nightly(1, 52.3, a), nightly(2, 40, b), nightly(3, 55, a))
	if _, err := s.Restore(t.Context(), "greenhouse", 1, time.Now(), ""); err != nil {
		t.Fatal(err)
	}
	fill(t, s, nightly(4, 41, b))
	h, _ := s.History("greenhouse")
	if f, _ := h.InForce(); f.Number != 4 {
		t.Errorf("in force: %d", f.Number)
	}
	if f, _ := h.InForceOn(*a); f.Number != 1 {
		t.Errorf("on the first body: %d", f.Number)
	}
	if f, _ := h.InForceOn(*b); f.Number != 4 {
		t.Errorf("on the second body: %d", f.Number)
	}
	if _, ok := h.InForceOn(Setup{Body: "Bench 9"}); ok {
		t.Error("a body that was never calibrated")
	}
}

// A line written before set-ups and degrees of freedom were kept, as formats of that time had it.
const oldLine = `{"schema":"leadmark/result/1","rig":"greenhouse","determined":["lag","spread"],"lag":{"value_ms":52.31,"u_ms":0.18,"interval95_ms":[51.94,52.68]},"spread":{"value_ms":0.8,"interval95_ms":[0.62,1.1]},"warnings":[],"advice":[],"accepted":"2026-05-03T22:15:00Z","run_sha256":"abc","note":"first night"}` + "\n"

func TestOldLinesStillLoad(t *testing.T) {
	h := ParseHistory([]byte(oldLine))
	if len(h.Entries) != 1 || len(h.Damaged) != 0 || h.Entries[0].Setup != nil || h.Entries[0].On().Known() {
		t.Fatalf("%+v", h)
	}
	line, err := h.Entries[0].line()
	if err != nil || string(line) != oldLine {
		t.Errorf("written again it is another line:\n%s", line)
	}
	// u 0.18 with a half width of 0.37 is Student's factor 2.056, which tables give for 26 degrees of
	// freedom (t 0.975: 2.0555; e.g. NIST/SEMATECH e-Handbook, 1.3.6.7.2).
	if df := h.Entries[0].Lag.Estimate().DF; df < 25 || df > 27 {
		t.Errorf("%v degrees of freedom, want 26", df)
	}
}
