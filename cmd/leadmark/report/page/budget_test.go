package page

import (
	"strings"
	"testing"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/testdata/bees"
	"leadmark/fit"
)

// The GUM's own example, JCGM 100:2008, H.1.4 to H.1.6 and table H.1 (end-gauge calibration):
// combined standard uncertainty 32 nm of contributions 25, 9.7, 2.9 and 16.6 nm; 16 effective
// degrees of freedom.
// Each value is printed as the table has it, in the units that the report uses for lengths.
func TestBudgetOfTheGUMsEndGauge(t *testing.T) {
	r := calib.Result{}
	r.Fit.Budget = []fit.Budget{{Of: "trip_offset", Unit: "m", U: 32e-9, DF: 16, Lines: []fit.Contribution{
		{Source: "standard end gauge", Kind: "B", N: 1, Unit: "m", Input: 25e-9, Sensitivity: 1, U: 25e-9,
			Share: 25. * 25 / (32 * 32)},
		{Source: "measured difference", Kind: "A", N: 1, Unit: "m", Input: 9.7e-9, Sensitivity: 1, U: 9.7e-9,
			Share: 9.7 * 9.7 / (32 * 32)},
	}}}
	v := budgetViews(r)[0]
	if v.U != "0.000032 mm" || v.DF != "16" {
		t.Errorf("combined %q with %q degrees of freedom", v.U, v.DF)
	}
	if l := v.Lines[0]; l.U != "0.000025 mm" || l.Input != "0.000025 mm" || l.Sensitivity != "1.0" ||
		l.Share != "61 %" || l.Kind != "B" {
		t.Errorf("%+v", l)
	}
	if l := v.Lines[1]; l.U != "0.0000097 mm" || l.Share != "9.2 %" {
		t.Errorf("%+v", l)
	}
}

// A sensitivity of the lag to a length is a slope: 0.108 s/m is 0.108 ms/mm. To a speed it is not.
func TestSensitivitiesCarryTheirUnits(t *testing.T) {
	for _, c := range []struct {
		c        fit.Contribution
		of, want string
	}{
		{fit.Contribution{Unit: "m", Sensitivity: -0.108}, "s", "-0.11 ms/mm"},
		{fit.Contribution{Unit: "s", Sensitivity: 0.18}, "s", "0.18"},
		{fit.Contribution{Unit: "m/s", Sensitivity: 0.02}, "s", "20 ms/(m/s)"},
		{fit.Contribution{Unit: "m/s^2", Sensitivity: 0.002}, "m", "2.0 mm/(m/s²)"},
		{fit.Contribution{Unit: "1", Sensitivity: 0.05}, "s", "50 ms"},
		{fit.Contribution{Unit: "s", Sensitivity: 1.4}, "m", "1.4 mm/ms"},
	} {
		if got := budgetLine(c.c, c.of).Sensitivity; got != c.want {
			t.Errorf("%+v: %q, want %q", c.c, got, c.want)
		}
	}
}

func TestChecksPutAlarmsFirst(t *testing.T) {
	v := checkViews(bees.Run(6, 0.15, 0.4, 0.9))
	if len(v) != 3 || v[0].Name != "Two lags mixed" || !v[0].Alarm || v[1].Finding != "nothing found" ||
		v[2].Finding != "not tested" {
		t.Errorf("%+v", v)
	}
}

func TestOutliersWithAndWithout(t *testing.T) {
	r := bees.Run(6, 0.15, 0.4, 0.9)
	v := outlierViews(r, true)
	if v == nil || len(v.Rows) != 2 || len(v.Frames) != 1 {
		t.Fatalf("%+v", v)
	}
	odd := v.Frames[0]
	for i, f := range r.Frames { // the shot that the fit counts is the frame that is shown
		if f.Fit.Outlier && (odd.Name != f.Name || odd.Href != "#"+frameID(i)) {
			t.Errorf("%+v is not %s", odd, f.Name)
		}
	}
	if v.Rows[0].Change != "+0.40 ms" || v.Rows[1].Change != "× 1.5" || !strings.HasPrefix(v.Rows[0].With, "52.7 ms") {
		t.Errorf("%+v", v.Rows)
	}
	if outlierViews(bees.AdvanceOnly(8), true) != nil {
		t.Error("odd shots where none was told")
	}
}

// The Monte Carlo propagation is set beside the budget it belongs to, with its verdict.
func TestDrawnBudgetSaysWhetherItAgrees(t *testing.T) {
	p := fit.Propagation{Draws: 10000, Lag: &fit.Propagated{U: 0.18e-3,
		Interval95: fit.Interval{Low: 51.94e-3, High: 52.69e-3}, Agrees: true}}
	if got := drawnText(p, "lag", phrase.MS); !strings.Contains(got, "10000 times") ||
		!strings.Contains(got, "0.18 ms") || !strings.Contains(got, "agrees with") {
		t.Error(got)
	}
	p.Lag.Agrees = false
	if got := drawnText(p, "lag", phrase.MS); !strings.Contains(got, "does not agree") {
		t.Error(got)
	}
	if got := drawnText(p, "trip_offset", phrase.MM); got != "" {
		t.Error(got)
	}
}
