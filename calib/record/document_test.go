package record

import (
	"bytes"
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"leadmark/calib"
	"leadmark/calib/provenance"
	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/fit"
	"leadmark/fit/note"
	"leadmark/fit/unit"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// sample is a result with the values of the example in the format's contract.
func sample() calib.Result {
	zone := time.FixedZone("", 2*3600)
	shown := calib.FrameResult{Shot: read.Shot{
		Frame: frame.Frame{Name: "IMG_0002.JPG", Taken: time.Date(2026, 5, 3, 10, 21, 7, 350e6, zone), ZoneKnown: true,
			Exposure: 0.005, FNumber: 11, ISO: 200, Focal: 0.1},
		Status: ruler.StatusRead, Advance: 0.16031, U: 0.00006, FrontPX: ruler.Point{X: 2980.2, Y: 1400.7},
		PxPerM: 9710},
		Fit: fit.ShotFit{Residual: 0.00012},
	}
	refused := calib.FrameResult{Shot: read.Shot{Frame: frame.Frame{Name: "IMG_0003.JPG",
		Taken: time.Date(2026, 5, 3, 10, 22, 0, 0, time.UTC)},
		Status: ruler.StatusRefused, Reason: note.New("dark")}}
	return calib.Result{
		Rig: "greenhouse", RunSHA256: "5f2b",
		Run: runfile.Run{Settings: map[string]string{"conditions.drop_mm": "400"}},
		Fit: fit.Result{
			Determined: []string{"lag", "spread", "trip_offset"},
			Lag: &fit.Estimate{Value: 0.0523123, U: 0.00018345,
				Interval95: fit.Interval{Low: 0.05194, High: 0.05268}},
			Spread:     &fit.Estimate{Value: 0.0008, U: 0.0001, Interval95: fit.Interval{Low: 0.00062, High: 0.0011}},
			NextShot:   &fit.Interval{Low: 0.0506, High: 0.0540},
			TripOffset: &fit.Estimate{Value: 0.0004, U: 0.0002},
			Speeds:     []fit.GroupSpeed{{Group: "a", Estimate: fit.Estimate{Value: 1.52, U: 0.01}}},
			Advance: []fit.AdvanceGroup{{Drop: 0.4, N: 8, Mean: fit.Estimate{Value: 0.1602, U: 0.0007}, SD: 0.0021,
				Tolerance95: &fit.Interval{Low: 0.1529, High: 0.1675}}},
			Advice: []fit.Advice{{Note: note.Of("shoot", "two-heights"), Drop: 0.9, Shots: 4, ULagAfter: 0.00011}},
		},
		TripLine: &ruler.Line{A: ruler.Point{X: 2010.4}, B: ruler.Point{X: 2010.4, Y: 3999}},
		Frames:   []calib.FrameResult{shown, refused},
		Warnings: []calib.Warning{{Note: note.Of("by-hand", "left-out"), Frames: []string{"IMG_0014.JPG"}}},
	}
}

const sampleJSON = `{
  "schema": "leadmark/result/1",
  "generator": {"program": "leadmark", "version": "` + provenance.Release + `"},
  "inputs_sha256": "INPUTS",
  "settings": {"conditions.drop_mm": "400"},
  "rig": "greenhouse",
  "determined": ["lag", "spread", "trip_offset", "trip_line"],
  "lag": {"value_ms": 52.312, "u_ms": 0.183, "interval95_ms": [51.94, 52.68]},
  "spread": {"value_ms": 0.8, "interval95_ms": [0.62, 1.1]},
  "next_shot": {"interval95_ms": [50.6, 54]},
  "trip_offset": {"value_mm": 0.4, "u_mm": 0.2},
  "trip_line_px": [[2010.4, 0], [2010.4, 3999]],
  "speeds": [{"group": "a", "value_mps": 1.52, "u_mps": 0.01}],
  "advance": [{"drop_mm": 400, "delay_ms": 0, "n": 8, "mean_mm": 160.2, "sd_mm": 2.1, "tolerance95_95_mm": [152.9,
	167.5]}],
  "frames": [
    {"file": "IMG_0002.JPG", "status": "read", "reason": "", "advance_mm": 160.31, "u_mm": 0.06,
	"front_px": [2980.2, 1400.7],
     "px_per_mm": 9.71, "residual_mm": 0.12, "outlier": false, "taken": "2026-05-03T10:21:07.35+02:00",
     "exposure_s": 0.005, "f_number": 11, "iso": 200, "focal_mm": 100},
    {"file": "IMG_0003.JPG", "status": "refused",
	"reason": "dark: the picture is nearly black: did the flash fire, and was it open in time?", "outlier": false,
		"taken": "2026-05-03T10:22:00"}
  ],
  "warnings": [{"code": "by-hand", "text": "a person left these frames out, as corrections.toml says",
	"frames": ["IMG_0014.JPG"]}],
  "advice": [{"text": "drop the ruler from two heights, one four times the other, six times each", "drop_mm": 900,
	"delay_ms": 0, "shots": 4, "u_lag_after_ms": 0.11}]
}`

func TestEncodeFollowsTheContract(t *testing.T) {
	text, err := Encode(sample())
	if err != nil {
		t.Fatal(err)
	}
	var got, want any
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte(strings.Replace(sampleJSON, "INPUTS", madeOf("5f2b",
		runfile.Run{}).InputsSHA256, 1)), &want); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%s\nwant\n%s", text, sampleJSON)
	}
	again, _ := Encode(sample())
	if !bytes.Equal(text, again) {
		t.Error("the same result gave other bytes")
	}
}

func TestDecodeReadsWhatEncodeWrites(t *testing.T) {
	text, err := Encode(sample())
	if err != nil {
		t.Fatal(err)
	}
	d, err := Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	again, err := d.Encode()
	if err != nil || !bytes.Equal(text, again) {
		t.Errorf("%v\n%s\n%s", err, text, again)
	}
	for _, bad := range []string{"", "{}", `{"schema": "another/1"}`, "[1]"} {
		if _, err := Decode([]byte(bad)); err == nil {
			t.Errorf("%q was taken for a result", bad)
		}
	}
}

// What a run could not tell is absent, never zero; the lists that say nothing are empty.
func TestEncodeLeavesOutWhatIsNotKnown(t *testing.T) {
	text, err := Encode(calib.Result{Frames: []calib.FrameResult{{Shot: read.Shot{Frame: frame.Frame{Name: "a.jpg"}, Status: ruler.StatusRead, Advance: math.NaN(), U: 0}}}})
	if err != nil {
		t.Fatal(err)
	}
	var got, want any
	_ = json.Unmarshal(text, &got)
	_ = json.Unmarshal([]byte(`{"schema": "leadmark/result/1", "rig": "", "determined": [],
		"generator": {"program": "leadmark", "version": "`+provenance.Release+`"},
			"inputs_sha256": "`+madeOf("", runfile.Run{}).InputsSHA256+`", "warnings": [], "advice": [],
		"frames": [{"file": "a.jpg", "status": "read", "reason": "", "u_mm": 0, "residual_mm": 0,
			"outlier": false}]}`), &want)
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%s", text)
	}
}

func TestRoundingShowsThreeDigitsOfTheUncertainty(t *testing.T) {
	for _, c := range []struct{ x, u, want float64 }{
		{52.312345, 0.18345, 52.312}, {52.312345, 1.8, 52.31}, {1234.5678, 12.3, 1234.6}, {1234.5678, 123, 1235},
		{1234.5678, 12300, 1235}, {0.123456789, 0, 0.123457}, {-0.0001, 1, 0}, {5, math.Inf(1), 5},
	} {
		if got := unit.Fixed(c.x, unit.Decimals(c.u)); got != c.want || math.Signbit(got) != math.Signbit(c.want) {
			t.Errorf("%v with u %v: %v, want %v", c.x, c.u, got, c.want)
		}
	}
}

// Another goal is another input: what is planned next depends on it.
func TestInputsTellGoals(t *testing.T) {
	r := sample()
	before := NewDocument(r).InputsSHA256
	r.Run.Goal = runfile.Goal{U: 1e-4}
	if after := NewDocument(r).InputsSHA256; after == before || len(after) != 64 {
		t.Errorf("%s, then %s", before, after)
	}
}
