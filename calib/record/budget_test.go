package record

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"leadmark/calib"
	"leadmark/calib/runfile"
	"leadmark/fit"
	"leadmark/fit/design"
	"leadmark/fit/note"
	"leadmark/fit/onelag"
)

// signed is the sample with all that the fit says besides.
func signed() calib.Result {
	r := sample()
	r.Fit.Lag.DF, r.Fit.Spread.DF = 18.04, 17.2
	r.Fit.Budget = []fit.Budget{
		{Of: "lag", Unit: "s", U: 0.00018345, DF: 18.04, Lines: []fit.Contribution{
			{Source: "spread", Kind: "A", N: 8, Unit: "s",
				Input: 0.0008, Sensitivity: 0.2, U: 0.00016, Share: 0.76072},
			{Source: "drop-height", Drop: 0.4, Kind: "B", N: 1, Unit: "m", Input: 0.001,
				Sensitivity: -0.0897, U: 0.0000897, Share: 0.23928},
			{Source: "gravity", Kind: "B", N: 1, Unit: "m/s^2", Input: 0.0001,
				Sensitivity: 0.002, U: 2e-7, Share: 1.2e-6}}},
		{Of: "trip_offset", Unit: "m", U: 0.0002, Lines: []fit.Contribution{{Source: "spread",
			Kind: "A", N: 8, Unit: "s", Input: 0.0008, Sensitivity: 0.25, U: 0.0002, Share: 1}}},
	}
	r.Propagation = fit.Propagation{Draws: 10000, Lag: &fit.Propagated{U: 0.00018312,
		Interval95: fit.Interval{Low: 0.0519412, High: 0.0526849}, Agrees: true}}
	r.Fit.Checks = []onelag.Check{
		{Name: "order", Tested: true, Statistic: 0.6471, P: 0.4304, Threshold: 0.05, Effect: 0.00097,
			EffectU: 0.00121, Note: note.Of("order", "nothing", 0.4304)},
		{Name: "pause", Note: note.Of("pause", "no-times")},
	}
	r.Fit.Odd = &fit.Odd{Shots: []int{0}, Lag: &fit.Estimate{Value: 0.0527, U: 0.0005, DF: 18,
		Interval95: fit.Interval{Low: 0.0517, High: 0.0537}}, LagChange: 0.00039, SpreadRatio: 1.512}
	r.Run.Goal = runfile.Goal{U: 0.0001}
	r.Plan = &design.Schedule{Possible: true, Shots: 4, ULag: 0.0000987, UNext: 0.00081,
		Batches: []design.Batch{{Drop: 0.9, Shots: 4}},
		Stage:   []design.Batch{{Drop: 0.9, Shots: 4}}}
	return r
}

// Units: an input in m or s is written in thousandths, a sensitivity in s/m is the same number of
// ms/mm, one in s/(m/s^2) a thousand times as many ms/(m/s^2). Where the run did not tell, the key
// is absent.
const signedJSON = `{
 "budget": [
  {"of": "lag", "u_ms": 0.183, "df": 18, "lines": [
   {"source": "spread", "text": "the lag's own spread, shot by shot", "kind": "A", "n": 8, "input": 0.8,
	"input_unit": "ms", "sensitivity": 0.2, "u_ms": 0.16, "share": 0.761},
   {"source": "drop-height", "text": "stated height of 400 mm, one error for all its shots", "drop_mm": 400,
	"kind": "B", "n": 1, "input": 1, "input_unit": "mm", "sensitivity": -0.0897, "u_ms": 0.0897, "share": 0.239},
   {"source": "gravity", "text": "local gravity", "kind": "B", "n": 1, "input": 0.0001, "input_unit": "m/s^2",
	"sensitivity": 2, "u_ms": 0.0002, "share": 0.0000012}],
   "monte_carlo": {"draws": 10000, "u_ms": 0.183, "interval95_ms": [51.941, 52.685], "agrees": true}},
  {"of": "trip_offset", "u_mm": 0.2, "lines": [
   {"source": "spread", "text": "the lag's own spread, shot by shot", "kind": "A", "n": 8, "input": 0.8,
	"input_unit": "ms", "sensitivity": 0.25, "u_mm": 0.2, "share": 1}]}],
 "checks": [
  {"name": "order", "tested": true, "statistic": 0.647, "p_value": 0.43, "threshold": 0.05, "alarm": false,
	"effect_ms": 0.97, "u_effect_ms": 1.21,
		"text": "no drift over the shooting order shows (chance of as much in a run with one lag: 0.43)"},
  {"name": "pause", "tested": false, "alarm": false, "text": "the frames do not say when they were made"}],
 "odd": {"frames": ["IMG_0002.JPG"], "lag": {"value_ms": 52.7, "u_ms": 0.5, "df": 18, "interval95_ms": [51.7,
	53.7]}, "lag_change_ms": 0.39, "spread_ratio": 1.51},
 "plan": {"goal": {"u_lag_ms": 0.1}, "reached": false, "possible": true, "shots": 4, "u_lag_ms": 0.0987,
	"u_next_ms": 0.81,
		"text": "drop the ruler 4 times from 900 mm: the lag's standard uncertainty then is about 0.099 ms; then the goal is reached: stop",
  "batches": [{"drop_mm": 900, "delay_ms": 0, "shots": 4, "text": "drop the ruler 4 times from 900 mm"}],
  "stage": [{"drop_mm": 900, "delay_ms": 0, "shots": 4, "text": "drop the ruler 4 times from 900 mm"}]}
}`

func TestBudgetChecksOddAndPlanInJSON(t *testing.T) {
	text, err := Encode(signed())
	if err != nil {
		t.Fatal(err)
	}
	var got, want map[string]any
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte(signedJSON), &want); err != nil {
		t.Fatal(err)
	}
	for key := range want {
		a, _ := json.Marshal(got[key])
		b, _ := json.Marshal(want[key])
		if !bytes.Equal(a, b) {
			t.Errorf("%s:\n%s, want\n%s", key, a, b)
		}
	}
	d, err := Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := d.Encode(); err != nil || !bytes.Equal(text, again) {
		t.Errorf("read back and written again it differs: %v\n%s", err, again)
	}
	plain, _ := Encode(sample())
	for _, key := range []string{"budget", "checks", "odd", "plan", "df"} {
		if strings.Contains(string(plain), `"`+key+`"`) {
			t.Errorf("%s is there though the run did not tell it", key)
		}
	}
}

// Whatever is read as a result is written as one that reads the same, and its lag and spread can be
// taken up without a panic.
func FuzzDecode(f *testing.F) {
	for _, r := range []calib.Result{signed(), sample(), {}} {
		text, err := Encode(r)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		d, err := Decode(text)
		if err != nil {
			return
		}
		written, err := d.Encode()
		if err != nil {
			t.Fatal(err)
		}
		again, err := Decode(written)
		if err != nil {
			t.Fatalf("%v\n%s", err, written)
		}
		if twice, err := again.Encode(); err != nil || !bytes.Equal(written, twice) {
			t.Errorf("%v\n%s\n%s", err, written, twice)
		}
		if d.Lag != nil {
			_ = d.Lag.Estimate()
		}
		if d.Spread != nil {
			_ = d.Spread.Estimate()
		}
	})
}

// A lag and a spread read back from a file are those that were written, to the digits that it
// keeps.
func TestEntriesReadBack(t *testing.T) {
	d := NewDocument(signed())
	lag, spread := d.Lag.Estimate(), d.Spread.Estimate()
	if math.Abs(lag.Value-0.0523123) > 1e-6 || math.Abs(lag.U-0.00018345) > 1e-6 || lag.DF != 18 ||
		lag.Interval95.Low != 0.05194 {
		t.Errorf("%+v", lag)
	}
	if spread.Value != 0.0008 || spread.DF != 17.2 || spread.Interval95.High != 0.0011 {
		t.Errorf("%+v", spread)
	}
	bare := LagEntry{ValueMS: 52, UMS: 0.2}.Estimate()
	if bare.Interval95.Low >= bare.Value || !(bare.DF > 0) {
		t.Errorf("%+v", bare)
	}
}

// A plan's entry has the goal under the key of what it asks for, and every batch.
func TestPlanEntryStatesItsGoal(t *testing.T) {
	s := design.Schedule{Batches: []design.Batch{{Drop: 0.4, Shots: 3}, {Drop: 0.9, Shots: 2}}}
	if e := NewPlanEntry(runfile.Goal{U: 0.3e-3}, s); e.Goal.ULagMS != 0.3 || e.Goal.UNextMS != 0 ||
		len(e.Batches) != 2 {
		t.Errorf("%+v", e)
	}
	if e := NewPlanEntry(runfile.Goal{U: 0.3e-3, Next: true}, s); e.Goal.ULagMS != 0 || e.Goal.UNextMS != 0.3 {
		t.Errorf("%+v", e)
	}
}
