package runs

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/photo"
)

// smallRun is a run of tiny pictures.
func smallRun() RunSpec {
	return RunSpec{Name: "small", Method: "drop", Drops: []float64{0.1, 0.4}, Shots: 3, Lag: 30e-3, Spread: 1e-3,
		TripOffset: 0.4 * mm, Trip: "line", Travel: "right", Look: looks.WhitePlastic(),
		Backdrop: photo.Backdrop{Kind: photo.Cloth},
		Width:    900, Height: 500, FullWell: 8000, Seed: 4}
}

// Free fall by hand: h = 0.4 m gives v = sqrt(2 x 9.80665 x 0.4) = 2.800950 m/s; after 50 ms the
// front is 2.800950 x 0.05 + 9.80665 x 0.05^2 / 2 = 0.1400475 + 0.0122583 = 0.1523058 m on.
func TestFall(t *testing.T) {
	r := RunSpec{Method: "drop", Drops: []float64{0.4}, Shots: 1, Lag: 0.05}
	s := r.shots(newRand(1))[0]
	if math.Abs(s.trueSpeed-2.800950) > 1e-6 || math.Abs(s.advance()-0.1523058) > 1e-6 {
		t.Errorf("speed %.6f m/s, advance %.7f m; want 2.800950 and 0.1523058", s.trueSpeed, s.advance())
	}
	r = RunSpec{Method: "push", Speeds: []float64{1.5}, Delays: []float64{0.01}, Shots: 1, Lag: 0.05}
	if got := r.shots(newRand(1))[0].advance(); math.Abs(got-0.090) > 1e-12 {
		t.Errorf("a push of 1.5 m/s is %.6f m on after 60 ms, want 0.09", got)
	}
}

// The drawn shots must have the stated mean and standard deviation.
func TestSpreadIsAsStated(t *testing.T) {
	r := RunSpec{Method: "push", Speeds: []float64{1}, Shots: 20000, Lag: 0.04, Spread: 0.8e-3}
	sum, sq := 0.0, 0.0
	shots := r.shots(newRand(5))
	for _, s := range shots {
		sum += s.tau
		sq += (s.tau - 0.04) * (s.tau - 0.04)
	}
	n := float64(len(shots))
	// Four standard errors: 0.8 ms / sqrt(n), and relative 1 / sqrt(2 n).
	if math.Abs(sum/n-0.04) > 4*0.8e-3/math.Sqrt(n) || math.Abs(math.Sqrt(sq/n)/0.8e-3-1) > 4/math.Sqrt(2*n) {
		t.Errorf("mean %g s, standard deviation %g s", sum/n, math.Sqrt(sq/n))
	}
}

// With the track square to the view and no play, lengths in the picture are lengths in space: the
// distance of the drawn front from the stated line is the advance, and that from the true line
// differs by the offset.
func TestAdvanceIsWhatThePictureShows(t *testing.T) {
	dir := t.TempDir()
	truth, err := WriteRun(dir, smallRun())
	if err != nil {
		t.Fatal(err)
	}
	if len(truth.Frames) != 6 || truth.StatedPX == nil {
		t.Fatalf("%d frames, stated line %v", len(truth.Frames), truth.StatedPX)
	}
	for _, f := range truth.Frames {
		got := (f.FrontPX[0] - truth.StatedPX[0][0]) / f.PxPerMM
		if math.Abs(got-f.AdvanceMM) > 1e-6 || math.Abs(f.AtLineMM-f.AdvanceMM) > 1e-6 {
			t.Errorf("%s: picture shows %.6f mm, at the line %.6f, truth says %.6f", f.File, got, f.AtLineMM,
				f.AdvanceMM)
		}
		past := (f.FrontPX[0] - truth.TripLinePX[0][0]) / f.PxPerMM
		if math.Abs(f.AdvanceMM-past-0.4) > 1e-6 {
			t.Errorf("%s: offset of the trip point is %.6f mm, want 0.4", f.File, f.AdvanceMM-past)
		}
		tau, v := f.TauMS*1e-3, f.SpeedMPS
		if s := v*tau + Gravity*tau*tau/2; math.Abs(s*1e3-past) > 1e-6 {
			t.Errorf("%s: the fall gives %.6f mm, the picture %.6f", f.File, s*1e3, past)
		}
	}
	checkFiles(t, dir, truth)
}

// contract is run.toml as formats.md has it; a key that is not there is an error.
type contract struct {
	Rig, Method, Travel string
	Ruler               struct {
		Graduation float64 `toml:"graduation_mm"`
		Front      float64 `toml:"front_mm"`
		Twin       float64 `toml:"twin_ms"`
		Mark       string
		Band       float64 `toml:"band_mm"`
	}
	Trip struct {
		Line  [][]float64 `toml:"line_px"`
		Still string
		U     float64 `toml:"u_mm"`
	}
	Conditions struct {
		Drop        float64 `toml:"drop_mm"`
		Speed       float64 `toml:"speed_mps"`
		Delay       float64 `toml:"delay_ms"`
		Gravity     float64 `toml:"gravity_mps2"`
		UDrop       float64 `toml:"u_drop_mm"`
		UDropShot   float64 `toml:"u_drop_shot_mm"`
		UDropCommon float64 `toml:"u_drop_common_mm"`
		USpeed      float64 `toml:"u_speed_mps"`
		SpeedRepeat float64 `toml:"speed_repeat"`
	}
}

func readContract(t *testing.T, dir string) contract {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, "run.toml"))
	if err != nil {
		t.Fatal(err)
	}
	var c contract
	if err := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields().Decode(&c); err != nil {
		t.Fatalf("run.toml: %v\n%s", err, text)
	}
	return c
}

func checkFiles(t *testing.T, dir string, truth RunTruth) {
	t.Helper()
	c := readContract(t, dir)
	if c.Method != "drop" || c.Travel != "right" || c.Ruler.Graduation != 1 ||
		math.Abs(c.Trip.Line[0][0]-truth.StatedPX[0][0]) > 1e-3 {
		t.Errorf("run.toml says %+v", c)
	}
	f, err := os.Open(filepath.Join(dir, "shots.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) != 7 || rows[1][0] != "IMG_0001.JPG" || rows[6][1] != "400" {
		t.Errorf("shots.csv: %v, %v", rows, err)
	}
	text, err := os.ReadFile(filepath.Join(dir, "truth.json"))
	if err != nil {
		t.Fatal(err)
	}
	var back RunTruth
	if err := json.Unmarshal(text, &back); err != nil || back.LagMS != truth.LagMS || len(back.Frames) != 6 {
		t.Errorf("truth.json does not read back: %v", err)
	}
}

func TestSameSeedSameFiles(t *testing.T) {
	r := smallRun()
	r.Shots, r.Drops = 1, []float64{0.2}
	a, b, c := t.TempDir(), t.TempDir(), t.TempDir()
	other := r
	other.Seed++
	for dir, spec := range map[string]RunSpec{a: r, b: r, c: other} {
		if _, err := WriteRun(dir, spec); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"IMG_0001.JPG", "run.toml", "shots.csv", "truth.json"} {
		x, y := read(t, a, name), read(t, b, name)
		if !bytes.Equal(x, y) {
			t.Errorf("%s differs between two runs of one seed", name)
		}
	}
	if bytes.Equal(read(t, a, "IMG_0001.JPG"), read(t, c, "IMG_0001.JPG")) {
		t.Error("another seed gives the same frame")
	}
}

func read(t *testing.T, dir, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// Every way a frame goes wrong must show in the truth, and nothing else may.
func TestOddFrames(t *testing.T) {
	want := map[string]string{"": "", "no-ruler": "no-ruler", "dark": "dark", "blurred": "blurred",
		"front-out": "front-out",
		"few-marks": "few-marks", "false-trip": "", "late": "", "cut": "cut-file"}
	r := smallRun()
	r.Shots = 1
	r.Odd = []string{"no-ruler", "dark", "blurred", "front-out", "few-marks", "false-trip", "late", "cut"}
	dir := t.TempDir()
	truth, err := WriteRun(dir, r)
	if err != nil {
		t.Fatal(err)
	}
	if len(truth.Frames) != 2+len(r.Odd) {
		t.Errorf("%d frames", len(truth.Frames))
	}
	for _, f := range truth.Frames {
		if f.Why != want[f.Odd] || f.Readable != (f.Why == "") {
			t.Errorf("%s %q: readable %v, why %q", f.File, f.Odd, f.Readable, f.Why)
		}
		if f.Odd == "false-trip" && f.AdvanceMM > -5 {
			t.Errorf("a false trip shows the front at %.1f mm", f.AdvanceMM)
		}
		_, err := jpeg.Decode(bytes.NewReader(read(t, dir, f.File)))
		if (err != nil) != (f.Odd == "cut") {
			t.Errorf("%s %q: decoding gives %v", f.File, f.Odd, err)
		}
	}
}

// A knocked camera sees everything shifted, the still ruler as well as the truth.
func TestKnockedCamera(t *testing.T) {
	r := smallRun()
	r.Spread, r.Drops, r.Shots = 0, []float64{0.2}, 4
	r.Move = &Move{After: 2, DX: 7.5, DY: -3}
	truth, err := WriteRun(t.TempDir(), r)
	if err != nil {
		t.Fatal(err)
	}
	a, b := truth.Frames[1].FrontPX, truth.Frames[2].FrontPX
	if math.Abs(b[0]-a[0]-7.5) > 1e-9 || math.Abs(b[1]-a[1]+3) > 1e-9 {
		t.Errorf("the front moved from %v to %v, want by (7.5, -3)", a, b)
	}
	if d := truth.Frames[2].AtLineMM - truth.Frames[1].AtLineMM; math.Abs(d) > 1e-6 {
		t.Errorf("the knock changes the reading at the line by %g mm", d)
	}
}

// The still shows the front end resting on the stated line, the true trip point the offset further on.
func TestStillRestsOnTheStatedLine(t *testing.T) {
	r := smallRun()
	r.Trip, r.Shots, r.Drops = "still", 1, []float64{0.2}
	dir := t.TempDir()
	truth, err := WriteRun(dir, r)
	if err != nil {
		t.Fatal(err)
	}
	f := truth.Frames[0]
	if f.Odd != "still" || math.Abs(f.FrontPX[0]-truth.StatedPX[0][0]) > 1e-6 || math.Abs(f.AdvanceMM) > 1e-9 {
		t.Errorf("still %+v, stated line %v", f, truth.StatedPX)
	}
	if got := (truth.TripLinePX[0][0] - truth.StatedPX[0][0]) / f.PxPerMM; math.Abs(got-0.4) > 1e-6 {
		t.Errorf("the trip point lies %.4f mm past the stated line, want 0.4", got)
	}
	if c := readContract(t, dir); c.Trip.Still != f.File {
		t.Errorf("run.toml names %q as the still", c.Trip.Still)
	}
}

// Every specification's run.toml keeps to the contract, and every shot of it says what its method
// needs.
func TestConditionsAreComplete(t *testing.T) {
	for _, r := range append(TwelveRuns(2), DemoRun(2)) {
		r = r.withDefaults()
		rnd := newRand(r.Seed)
		shots := r.shots(rnd)
		base := r.layout(rnd)
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "run.toml"), []byte(r.toml(&base)), 0o644); err != nil {
			t.Fatal(err)
		}
		readContract(t, dir)
		groups := map[string]map[float64]bool{}
		for _, s := range shots {
			switch {
			case r.Method == "drop" && (s.drop <= 0 || s.accel != Gravity):
				t.Errorf("%s: a drop without height", r.Name)
			case r.Method != "drop" && (s.speed > 0) == (s.group != ""):
				t.Errorf("%s: a push of speed %g in group %q", r.Name, s.speed, s.group)
			}
			if s.group != "" {
				if groups[s.group] == nil {
					groups[s.group] = map[float64]bool{}
				}
				groups[s.group][s.delay] = true
			}
		}
		for g, delays := range groups {
			if len(delays) < 2 {
				t.Errorf("%s: group %q has one delay only, which tells no speed", r.Name, g)
			}
		}
	}
}

// The twelve runs must hold what they are for.
func TestTwelveRunsCover(t *testing.T) {
	seen := map[string]bool{}
	tilt, odd := 0.0, 0
	runs := TwelveRuns(3)
	for _, r := range runs {
		seen[r.Method], seen[r.Travel], seen[r.Look.Name], seen["trip:"+r.Trip] = true, true, true, true
		seen["turned"] = seen["turned"] || r.Orientation > 1
		tilt = max(tilt, math.Abs(r.Tilt))
		odd += len(r.Odd)
		if r.longest() > r.Look.Length {
			t.Errorf("%s: the ruler is too short for an advance of %.3f m", r.Name, r.longest())
		}
	}
	for _, want := range []string{"drop", "push", "sweep", "mixed", "down", "up", "left", "right", "turned",
		"trip:", "trip:line", "trip:still",
		"white plastic", "black", "steel", "wood", "clear plastic", "tape", "inches", "two scales", "banded", "paper"} {
		if !seen[want] {
			t.Errorf("no run has %q", want)
		}
	}
	if len(runs) != 12 || math.Abs(tilt-8*deg) > 1e-9 || odd < 10 {
		t.Errorf("%d runs, tilt to %.1f degrees, %d odd frames", len(runs), tilt/deg, odd)
	}
}

// The demonstration's trip, front and graduations lie in the picture for every planned shot.
func TestDemoRunIsAllInView(t *testing.T) {
	r := DemoRun(7).withDefaults()
	rnd := newRand(r.Seed)
	shots := r.shots(rnd)
	base := r.layout(rnd)
	for i := range shots {
		s := r.scene(base, &shots[i], rnd, i+1)
		truth := s.Foretell()
		if shots[i].odd == "" && (!truth.Readable || len(truth.Graduations) < 40) {
			t.Errorf("shot %d: %q, %d graduations", i, truth.Why, len(truth.Graduations))
		}
	}
	if len(shots) < 26 || len(shots) > 28 {
		t.Errorf("%d shots", len(shots))
	}
}
