package claim

import (
	"errors"
	"io"
	"math"
	"strings"
	"testing"
)

func TestLimits(t *testing.T) {
	few, many := Share(9, 10), Share(900, 1000)
	for _, c := range []struct {
		name string
		f    Figure
		l    Limit
		want string // part of what is said
	}{
		{"kept", many, AtLeast(0.89), ""},
		{"below", many, AtLeast(0.91), "beyond"},
		{"above", many, AtMost(0.89), "beyond"},
		{"between", many, Between(0.88, 0.92), ""},
		{"by chance", few, AtLeast(0.95).Within(0.4), ""},
		{"not by chance", many, AtLeast(0.95).Within(0.4), "not by chance"},
		{"too few", few, AtLeast(0.95).Within(0.1), "too few"},
		{"no sample", Share(0, 0), AtLeast(0), "no samples"},
		{"NaN", Mean([]float64{1, math.NaN()}), Between(-9, 9), "not a number"},
		{"a single value has no spread", Mean([]float64{1}), Between(-9, 9), "not a number"},
		{"no value", Quantile(0.5, nil), AtMost(9), "no samples"},
		{"no ratio", Spread(nil), AtMost(9), "no samples"},
		{"NaN is the largest", Quantile(1, []float64{1, math.NaN()}), AtMost(9), "beyond"},
		{"NaN is no ratio of 1", Spread([]float64{1, math.NaN()}), AtMost(9), "beyond"},
	} {
		var s Study
		s.Hold(c.name, c.f, c.l)
		got := strings.Join(s.Broken(), "\n")
		if (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		if (s.Status() == 0) != (c.want == "") {
			t.Errorf("%s: status %d", c.name, s.Status())
		}
	}
}

func TestNothingIsSilent(t *testing.T) {
	var s Study
	if s.Status() == 0 {
		t.Error("a study that claims nothing is kept")
	}
	s.LeftOut("too dark to have a truth", 3, 10, 0.2)
	s.Failed("frame 7", errors.New("no such file"))
	var b strings.Builder
	if err := s.Print(&b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"BROKEN  left out: too dark", "FAILED  frame 7: no such file"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is not in\n%s", want, b.String())
		}
	}
}

// Clopper and Pearson's interval of 0 of 10 ends at 1-0.025^(1/10) = 0.3085; of 50 of 100
// statistical tables have 0.398 to 0.602 (from memory).
func TestShare(t *testing.T) {
	if f := Share(0, 10); f.Low != 0 || math.Abs(f.High-(1-math.Pow(0.025, 0.1))) > 1e-9 {
		t.Errorf("0 of 10: %v", f)
	}
	if f := Share(10, 10); f.High != 1 || math.Abs(f.Low-math.Pow(0.025, 0.1)) > 1e-9 {
		t.Errorf("10 of 10: %v", f)
	}
	if f := Share(50, 100); f.Low > 0.3985 || f.Low < 0.3980 || f.High < 0.6015 || f.High > 0.6020 {
		t.Errorf("50 of 100: %v, tables have 0.398 to 0.602", f)
	}
}

// The 95 % interval of a median of 10 is between the 2nd and the 9th in order (Conover, Practical
// Nonparametric Statistics, table A3: 97.9 %).
func TestQuantile(t *testing.T) {
	v := []float64{7, 3, 9, 1, 10, 2, 8, 4, 6, 5}
	if f := Quantile(0.5, v); f.Value != 5 || f.Low != 2 || f.High != 9 {
		t.Errorf("median of 1 to 10: %v", f)
	}
	if v[0] != 7 {
		t.Error("the values were put in order where they stood")
	}
}

// Chi squared with 10 degrees of freedom has 3.247 and 20.483 at 2.5 and 97.5 % (NIST/SEMATECH
// e-Handbook, 1.3.6.7.4).
func TestSpread(t *testing.T) {
	f := Spread([]float64{1, -1, 1, -1, 1, -1, 1, -1, 1, -1})
	if f.Value != 1 || math.Abs(f.Low-math.Sqrt(10/20.483)) > 1e-4 || math.Abs(f.High-math.Sqrt(10/3.247)) > 1e-3 {
		t.Errorf("spread of ten ones: %v", f)
	}
}

// Student's t with 4 degrees of freedom has 2.776 at 97.5 % (NIST/SEMATECH e-Handbook, 1.3.6.7.2).
func TestMean(t *testing.T) {
	f := Mean([]float64{1, 2, 3, 4, 5})
	if half := 2.776 * math.Sqrt(2.5/5); f.Value != 3 || math.Abs(f.High-3-half) > 1e-3 || math.Abs(3-f.Low-half) > 1e-3 {
		t.Errorf("mean of 1 to 5: %v", f)
	}
}

// log is a test that is told of a study.
type log struct {
	strings.Builder
	failed []any
}

func (l *log) Helper()           {}
func (l *log) Output() io.Writer { return &l.Builder }
func (l *log) Error(args ...any) { l.failed = append(l.failed, args...) }

func TestHeld(t *testing.T) {
	var s Study
	s.Hold("kept", Count(1, 1), AtLeast(1))
	s.Hold("too many", Count(2, 2), AtMost(1))
	var l log
	s.Held(&l)
	if len(l.failed) != 1 || !strings.Contains(l.String(), "BROKEN  too many") {
		t.Errorf("failed %v; printed\n%s", l.failed, l.String())
	}
}

func TestLists(t *testing.T) {
	v := []float64{-3, 2, math.NaN()}
	size := Sizes(v)
	if size[0] != 3 || size[1] != 2 || !math.IsNaN(size[2]) || v[0] != -3 {
		t.Errorf("%v without signs: %v", v, size)
	}
	below := func(x *float64) bool { return *x < 0 }
	if f := ShareOf(v, below); f.Value != 1.0/3 || f.N != 3 {
		t.Errorf("below nil are %+v", f)
	}
	if some := Those(v, below); len(some) != 1 || some[0] != -3 {
		t.Errorf("below nil are %v", some)
	}
}
