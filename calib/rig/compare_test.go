package rig

import (
	"errors"
	"math"
	"strings"
	"testing"

	"leadmark/calib/input"
	"leadmark/calib/record"
)

func numbered(entries ...Entry) History { return History{Entries: entries} }

// Two lags of equal uncertainty and freedom: U of the difference is 0.18 sqrt 2 = 0.2546 ms, 40
// degrees of freedom by Welch and Satterthwaite; Student's t 0.975 for 40 is 2.021 (NIST/SEMATECH
// e-Handbook, 1.3.6.7.2). Equal spreads of 20 degrees each: the ratio's interval is 1/sqrt(F) to
// sqrt(F), F 0.975 for 20 and 20 being 2.4645 (e.g. Pearson and Hartley, table 18).
func TestCompareTwoNights(t *testing.T) {
	h := numbered(nightly(1, 52.3, nil), nightly(2, 52.5, nil))
	a, _ := h.Entry(1)
	b, _ := h.Entry(2)
	c, err := Compare(a, b, CompareOptions{Margin: 1e-3})
	if err != nil {
		t.Fatal(err)
	}
	near := func(name string, got, want, tol float64) {
		if math.Abs(got-want) > tol {
			t.Errorf("%s is %v, want %v", name, got, want)
		}
	}
	near("difference", c.Lag.Value, 0.2e-3, 1e-12)
	near("its u", c.Lag.U, 0.25456e-3, 1e-8)
	near("degrees of freedom", c.Lag.DF, 40, 1e-9)
	near("lower end", c.Lag.Interval95.Low, (0.2-2.0211*0.25456)*1e-3, 2e-8)
	if !c.Lag.Equivalent || c.Lag.Verdict != "equivalent" {
		t.Errorf("within 1 ms: %+v", c.Lag)
	}
	near("ratio", c.Spread.Value, 1, 1e-12)
	// the intervals carry two digits of the freedom
	near("ratio's lower end", c.Spread.Interval95.Low, 1/math.Sqrt(2.4645), 0.02)
	if len(c.Doubts) != 1 || len(c.Disagreements()) != 0 {
		t.Errorf("%v, %v", c.Doubts, c.Disagreements())
	}
	far := nightly(3, 54.5, nil)
	far.Spread = &record.SpreadEntry{ValueMS: 3, DF: 20, Interval95: &[2]float64{2.3, 4.35}}
	c, err = Compare(a, Numbered{3, far}, CompareOptions{Margin: 1e-3})
	if err != nil || c.Lag.Verdict != "differ" || c.Lag.Equivalent || len(c.Disagreements()) != 2 {
		t.Errorf("%+v, %v, %v", c.Lag, c.Disagreements(), err)
	}
}

func TestOnlyLikeIsComparedWithLike(t *testing.T) {
	s7, s8 := &Setup{Body: "Bench 7"}, &Setup{Body: "Bench 8"}
	h := numbered(nightly(1, 52.3, s7), nightly(2, 40, s8), nightly(3, 52.2, s7), nightly(4, 52.4, nil))
	at := func(n int) Numbered { e, _ := h.Entry(n); return e }
	for _, c := range []struct {
		a, b int
		want string
	}{{1, 2, "body Bench 7 against Bench 8"}, {3, 4, "body Bench 7, not stated for the other"}} {
		_, err := Compare(at(c.a), at(c.b), CompareOptions{})
		var none *input.NoResult
		if !errors.As(err, &none) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%d and %d: %v, want %q", c.a, c.b, err, c.want)
		}
		if k, err := Compare(at(c.a), at(c.b), CompareOptions{AnySetup: true}); err != nil || len(k.Doubts) == 0 {
			t.Errorf("asked for all the same: %+v, %v", k, err)
		}
	}
	if k, err := Compare(at(1), at(3), CompareOptions{}); err != nil || len(k.Doubts) != 0 {
		t.Errorf("%+v, %v", k, err)
	}
	if p, ok := h.Previous(3); !ok || p.Number != 1 {
		t.Errorf("before 3 comes 1 of its set-up, not %d", p.Number)
	}
	if p, ok := h.Previous(4); ok {
		t.Errorf("before 4 there is none of its set-up, not %d", p.Number)
	}
	again := nightly(3, 52.2, s7)
	again.Note = "again"
	h.Entries = append(h.Entries, again)
	if p, _ := h.Previous(5); p.Number != 1 {
		t.Errorf("the same run again is not held against itself but %d", p.Number)
	}
	if _, err := Compare(at(3), at(5), CompareOptions{}); err == nil ||
		!strings.Contains(err.Error(), "very same run") {
		t.Errorf("%v", err)
	}
	hidden := nightly(6, 52.2, s7)
	hidden.Spread = &record.SpreadEntry{ValueMS: 0, Interval95: &[2]float64{0, 0.2}}
	if c, err := Compare(at(1), Numbered{6, hidden}, CompareOptions{}); err != nil || c.Spread != nil ||
		len(c.Doubts) != 1 {
		t.Errorf("%+v, %v", c, err)
	}
	hidden.Lag = nil
	if _, err := Compare(at(1), Numbered{6, hidden}, CompareOptions{}); err == nil {
		t.Error("nothing to compare, and no error")
	}
}

func TestFindByNumberAndTime(t *testing.T) {
	h := numbered(nightly(3, 52, nil), nightly(4, 53, nil), nightly(14, 54, nil))
	for text, want := range map[string]int{"1": 1, "3": 3, "last": 3, "2026-05-04": 2, "2026-05-14 22": 3,
		"2026-05-03T22:15:00Z": 1} {
		if e, err := h.Find(text); err != nil || e.Number != want {
			t.Errorf("%q: %d, %v; want %d", text, e.Number, err, want)
		}
	}
	for text, want := range map[string]string{"0": "the rig has 3", "4": "the rig has 3", "2026-05": "any of 3",
		"": "none was accepted", "yesterday": "none was accepted", "2027": "none was accepted"} {
		_, err := h.Find(text)
		var wrong *input.Error
		if !errors.As(err, &wrong) || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
	if _, err := (History{}).Find("last"); err == nil {
		t.Error("the last of none")
	}
}

// Limits by hand, ISO 7870-2, chart of single values: moving ranges of 52.0, 52.4, 52.2, 52.6 are
// 0.4, 0.2 and 0.4 ms, their mean 1/3; centre 52.3; limits 52.3 -+ 2.6587 x 1/3 (E2 = 3/d2 for n =
// 2, which the standard's table rounds to 2.660), ranges up to 3.267 x 1/3 (D4).
func TestChartsKeepSetupsApart(t *testing.T) {
	a, b := &Setup{Body: "Bench 7"}, &Setup{Body: "Bench 8"}
	var h History
	for i, lag := range []float64{52.0, 52.4, 52.2, 52.6} {
		e := nightly(i+1, lag, a)
		e.Lag.UMS, e.Lag.Interval95 = 0.05, &[2]float64{lag - 0.1, lag + 0.1}
		h.Entries = append(h.Entries, e)
	}
	h.Entries = append(h.Entries, nightly(5, 40, b))
	same := h.Entries[1]
	same.Note = "the same run, accepted again"
	h.Entries = append(h.Entries, same)
	c := h.Charts()
	if len(c) != 2 || len(c[0].Points) != 4 || len(c[1].Points) != 1 || c[1].Control != nil {
		t.Fatalf("%+v", c)
	}
	// The repeated run counts where it was accepted last: 52.0, 52.2, 52.6, 52.4; ranges 0.2, 0.4, 0.2.
	if n := c[0].Points[3].Number; n != 6 {
		t.Errorf("the last of the first chart is %d", n)
	}
	h.Entries = h.Entries[:5]
	k := h.Charts()[0].Control
	for name, v := range map[string][2]float64{"centre": {k.Centre, 52.3e-3},
		"lower": {k.Lower, (52.3 - 2.6587/3) * 1e-3}, "upper": {k.Upper, (52.3 + 2.6587/3) * 1e-3},
		"ranges": {k.RangeUpper, 3.267 / 3 * 1e-3}} {
		if math.Abs(v[0]-v[1]) > 2e-7 {
			t.Errorf("%s is %v, want %v", name, v[0], v[1])
		}
	}
	d := NewHistoryDocument("greenhouse", h)
	if len(d.Calibrations) != 5 || len(d.Charts) != 2 || *d.Charts[0].CentreMS != 52.3 ||
		d.Charts[0].Points[0].RangeMS != nil || *d.Charts[0].Points[1].RangeMS != 0.4 || d.InForce.Number != 5 {
		t.Errorf("%+v", d)
	}
}
