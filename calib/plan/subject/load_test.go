package subject_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/calib/input"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/testdata"
)

const beeFile = `name = "bee"
length_mm = 12
height_mm = 6
width_mm  = 8
motion = "straight"
speed_mps = 1.2
speed_sd_mps = 0.3
`

// Everything that can be wrong in a subject is told with file, line, key and remedy.
func TestSubjectErrors(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"length_mm = 12", "lenght_mm = 12",
			"subject.toml:2: unknown key lenght_mm|nearest known key is length_mm"},
		{"length_mm = 12", "length_cm = 1.2",
			"subject.toml:2: unknown key length_cm: this is given in millimetres"},
		{"length_mm = 12", "length_mm = 0", "subject.toml:2: length_mm is 0; it must be above 0"},
		{"height_mm = 6", "height_mm = -6",
			"subject.toml:3: height_mm is -6; it cannot be negative"},
		{"width_mm  = 8\n", "", "width_mm is not stated|measure the body"},
		{"motion = \"straight\"", "motion = \"swim\"",
			"motion is \"swim\"; it is straight, hop, table"},
		{"motion = \"straight\"\n", "", "motion is not stated"},
		{"motion = \"straight\"", "motion = \"table\"", "course is not stated"},
		{"speed_mps = 1.2", "speed_mps = 0", "speed_mps is 0; it must be above 0"},
		{"speed_mps = 1.2", "speed_mps = 4000", "speed_mps is 4000; it must lie between 0 and 300"},
		{"speed_mps = 1.2", "speed_mps = \"fast\"", "speed_mps wants a number"},
		{"speed_mps = 1.2\n", "", "speed_mps is not stated"},
		{"speed_sd_mps = 0.3", "speed_sd_mps = -1", "speed_sd_mps is -1; it cannot be negative"},
		{"speed_sd_mps = 0.3\n", "", "speed_sd_mps is not stated"},
		{"speed_sd_mps", "u_speed_mps = -1\nspeed_sd_mps",
			"u_speed_mps is -1; it cannot be negative"},
		{"speed_sd_mps", "speed_df = 1\nspeed_sd_mps",
			"speed_df is 1; it must lie between 2 and 1e+06"},
		{"speed_sd_mps", "exit_mm = [10]\nspeed_sd_mps", "exit_mm has 1 values, not two"},
		{"speed_sd_mps", "exit_mm = [10, -1]\nspeed_sd_mps",
			"exit_mm is -1; it cannot be negative"},
		{"speed_sd_mps", "elevation_deg = 95\nspeed_sd_mps",
			"elevation_deg is 95; it must lie between -90 and 90"},
		{"speed_sd_mps", "behind_nose_mm = 13\nspeed_sd_mps",
			"behind_nose_mm is 13, behind the tail of a body of 12 mm"},
		{"speed_sd_mps", "course = \"a.csv\"\nspeed_sd_mps",
			"course is stated, but motion is straight"},
		{"speed_sd_mps", "focus_on = \"tail\"\nspeed_sd_mps",
			"focus_on is \"tail\"; it is body or nose"},
		{"speed_sd_mps = 0.3\n", "speed_sd_mps = 0.3\n[sources]\nspeeed_mps = \"x\"\n",
			"speeed_mps is in [sources], but is no key of a subject|speed_mps"},
		{"name = \"bee\"", "name = bee", "subject.toml:1:"},
	} {
		text := strings.Replace(beeFile, c.old, c.new, 1)
		_, err := subject.Parse("subject.toml", []byte(text), input.Overrides{})
		if err == nil {
			t.Errorf("%s: no error", c.new)
			continue
		}
		var all string
		for _, e := range input.Faults(err) {
			what, hint := input.Describe(e)
			all += what + "\n" + hint + "\n"
		}
		for _, want := range strings.Split(c.want, "|") {
			if !strings.Contains(all, want) {
				t.Errorf("%q: %q is missing in\n%s", c.new, want, all)
			}
		}
	}
}

func TestUnstatedIsTold(t *testing.T) {
	s, err := subject.Parse("subject.toml", []byte(beeFile), input.Overrides{})
	if err != nil || strings.Join(s.Unstated, " ") != "azimuth_sd_deg elevation_sd_deg exit_mm" {
		t.Errorf("%v %v", s.Unstated, err)
	}
}

// A flag stands in for a key, and what the file says of the source of that key does not hold for
// it.
func TestFlagsStandInForSubjectToml(t *testing.T) {
	var o input.Overrides
	o.Set("speed_mps", "2.5")
	o.Set("exit_mm", "10,20")
	s, err := subject.Parse("subject.toml",
		[]byte(beeFile+"[sources]\nspeed_mps = \"a book\"\nlength_mm = \"a ruler\"\n"), o)
	if err != nil || s.Speed != 2.5 || s.Exit != [2]float64{0.01, 0.02} ||
		s.Sources["speed_mps"] != "" || s.Sources["length_mm"] == "" {
		t.Errorf("%+v %v", s, err)
	}
	learned := []byte(beeFile +
		"u_speed_mps = 0.05\nspeed_df = 15\nu_elevation_deg = 2\nelevation_df = 14\n")
	if s, err := subject.Parse("subject.toml", learned, o); err != nil ||
		s.SpeedKnown != (predict.Known{}) || s.ElevationKnown.DF != 14 {
		t.Errorf("how well the file's speed is known does not hold for a flag's: %+v %v", s, err)
	}
	if s, err := subject.Parse("subject.toml", learned, input.Overrides{}); err != nil ||
		s.SpeedKnown != (predict.Known{U: 0.05, DF: 15}) {
		t.Errorf("%+v %v", s, err)
	}
	o.Set("speed_mps", "2,5")
	if _, err := subject.Parse("subject.toml", []byte(beeFile), o); err == nil ||
		!strings.Contains(err.Error(), "--speed-mps: \"2,5\" is not a number") {
		t.Errorf("%v", err)
	}
}

func TestCourses(t *testing.T) {
	for text, want := range map[string]string{
		"time_ms,along_mm\n0,0\n":      "has 1 lines; a course needs two or more",
		"time_ms,along_mm\n0,0\n5,0\n": "never leaves the trip point",
		"time_ms,along_mm\n1,0\n5,3\n": "does not begin with 0,0",
		"time_ms,along_mm\n0,0\n5,3\n5,4\n": "course.csv:4: column time_ms: does not come after the " +
			"line before it",
		"time_ms,along_mm\n0,0\nx,3\n":             "course.csv:3: column time_ms: \"x\" is not a number",
		"time_ms,along_mm\n0,0\n5,\n":              "column along_mm: is empty",
		"time_ms,along_cm\n0,0\n5,1\n":             "this is given in millimetres",
		"time_s,along_mm\n0,0\n5,1\n":              "this is given in milliseconds",
		"time_ms;along_mm\n0;0\n":                  "not separated by commas",
		"time_ms,along_mm,up_mm\n0,0,0\n5,1e9,0\n": "must lie between",
	} {
		if _, err := subject.ParseCourse("course.csv", []byte(text)); err == nil ||
			!strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
	dir := t.TempDir()
	text := strings.Replace(beeFile, `"straight"`, `"table"`, 1) + "course = \"strike.csv\"\n"
	path := filepath.Join(dir, "subject.toml")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := subject.Load(path, input.Overrides{}); err == nil ||
		!strings.Contains(err.Error(), "strike.csv: there is no such file") {
		t.Errorf("%v", err)
	}
	if err := os.WriteFile(filepath.Join(dir, "strike.csv"),
		[]byte("time_ms,along_mm\n0,0\n20,30\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	s, err := subject.Load(path, input.Overrides{})
	if err != nil || s.Course.End() != 0.02 {
		t.Fatalf("%+v %v", s.Course, err)
	}
}

// Every preset reads, names the source of its speed, and marks what has none.
func TestPresets(t *testing.T) {
	names := subject.Presets()
	if len(names) < 6 {
		t.Fatalf("%v", names)
	}
	for _, name := range names {
		s, err := subject.LoadPreset(name, input.Overrides{})
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		if !strings.Contains(s.Sources["speed_mps"], ";") || len(s.Unstated) > 0 {
			t.Errorf("%s: source %q, unstated %v", name, s.Sources["speed_mps"], s.Unstated)
		}
		for key, source := range s.Sources {
			if s.Value(key) == "" || source == "" {
				t.Errorf("%s: %s has no value or no source", name, key)
			}
		}
	}
	if _, err := subject.PresetText("frogghoper"); err == nil ||
		!strings.Contains(err.Error(), "not known") {
		t.Errorf("%v", err)
	}
}

// Published speeds, as the presets have them: every preset has one.
func TestPresetSpeeds(t *testing.T) {
	published := testdata.Table(t, "preset_speeds.csv")
	if len(published) != len(subject.Presets()) {
		t.Errorf("%d speeds of %d presets are published", len(published), len(subject.Presets()))
	}
	for _, r := range published {
		low, high := testdata.Number(t, r["preset"], r["low"]),
			testdata.Number(t, r["preset"], r["high"])
		if s, err := subject.LoadPreset(r["preset"], input.Overrides{}); err != nil ||
			s.Speed < low || s.Speed > high {
			t.Errorf("%s: %g, %v; want %g to %g (%s)", r["preset"], s.Speed, err, low, high,
				r["source"])
		}
	}
	if s, _ := subject.LoadPreset("bush-cricket",
		input.Overrides{}); s.Value("elevation_deg") != "34 degrees" {
		t.Errorf("bush-cricket: %s", s.Value("elevation_deg"))
	}
}

func FuzzSubject(f *testing.F) {
	f.Add([]byte(beeFile))
	for _, name := range subject.Presets() {
		text, err := subject.PresetText(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := subject.Parse("subject.toml", text, input.Overrides{})
		if err == nil && (!(s.Length > 0) || s.Motion == "" || s.Motion != subject.Table &&
			!(s.Speed > 0)) {
			t.Errorf("%q was read as %+v", text, s)
		}
	})
}

func FuzzCourse(f *testing.F) {
	f.Add([]byte("time_ms,along_mm,up_mm\n0,0,0\n5,3,1\n9,3,1\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		c, err := subject.ParseCourse("course.csv", text)
		if err == nil && (len(c.Time) < 2 || c.Time[0] != 0 || !(c.End() > 0)) {
			t.Errorf("%q was read as %+v", text, c)
		}
	})
}

// The manual's example of the file format is read as it says.
func TestExampleOfTheFormats(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "..", "docs", "formats.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(text), "## A subject: subject.toml\n```toml\n")
	example, _, ok := strings.Cut(rest, "```")
	if !ok {
		t.Fatal("the example was not found")
	}
	// it belongs to another motion
	example = strings.ReplaceAll(example, `course = "strike.csv"`, "# course")
	s, err := subject.Parse("subject.toml", []byte(example), input.Overrides{})
	if err != nil {
		t.Fatal(err)
	}
	if s.Length != 0.012 || s.Motion != subject.Straight || s.Exit != [2]float64{0.01, 0.01} ||
		math.Abs(s.ElevationSD-8*math.Pi/180) > 1e-12 || len(s.Unstated) != 0 {
		t.Errorf("%+v", s)
	}
}

// A course is followed from point to point, with the speed of each piece, and goes on as in its last.
func TestAlongACourse(t *testing.T) {
	c, err := subject.ParseCourse("course.csv", []byte("time_ms,along_mm,up_mm\n0,0,0\n10,10,0\n20,10,20\n"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []struct{ at, along, up, speed, sine float64 }{
		{0.005, 0.005, 0, 1, 0}, {0.010, 0.010, 0, 2, 1}, {0.015, 0.010, 0.010, 2, 1}, {0.030, 0.010, 0.040, 2, 1},
	} {
		along, up, dir, speed := c.At(want.at)
		got := [4]float64{along, up, speed, dir[1]}
		for i, w := range [4]float64{want.along, want.up, want.speed, want.sine} {
			if math.Abs(got[i]-w) > 1e-12 {
				t.Errorf("at %g s: along, up, speed, sine of the heading %v, want %+v", want.at, got, want)
				break
			}
		}
	}
}
