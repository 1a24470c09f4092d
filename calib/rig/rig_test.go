package rig

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"leadmark/calib/input"
)

// example is the rig.toml of the format's contract with [limits] added.
const example = `[camera]
sensor_mm = [23.5, 15.6]
pixels    = [6000, 4000]
sync_s    = 0.005
iso       = 200
ambient_ev100 = 4.0
[lens]
focal_mm = 100
closest_mm = 300
f_numbers = [2.8, 32]
[trigger]
beam_mm = 3
delay_ms = 0
[[flash]]
name = "key"
lights = "subject"
guide_number_m = 40
powers = ["1/1", "1/128"]
power = "1/64"
distance_mm = 300
loss_stops = 1.5
t01_us = { "1/1" = 2800, "1/64" = 45, "1/128" = 30 }
[limits]
max_drop_mm = 1500
max_delay_ms = 200
recalibrate_days = 30
`

func TestParseReadsTheContractsExampleInSIUnits(t *testing.T) {
	p, err := Parse("rig.toml", []byte(example))
	if err != nil {
		t.Fatal(err)
	}
	near := func(name string, got, want float64) {
		if math.Abs(got-want) > 1e-12*math.Abs(want) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
	near("sensor", p.Camera.Sensor[0], 0.0235)
	near("sync", p.Camera.Sync, 0.005)
	near("ambient", *p.Camera.AmbientEV100, 4)
	near("focal", p.Lens.Focal, 0.1)
	near("closest", p.Lens.Closest, 0.3)
	near("beam", p.Trigger.Beam, 0.003)
	near("drop", p.Limits.MaxDrop, 1.5)
	near("delay", p.Limits.MaxDelay, 0.2)
	h := p.Flash[0]
	near("power", h.Power, 1.0/64)
	near("lowest power", h.Range[1], 1.0/128)
	near("distance", h.Distance, 0.3)
	if want := []Duration{{1, 2800e-6}, {1.0 / 64, 45e-6}, {1.0 / 128, 30e-6}}; len(h.T01) != 3 ||
		h.T01[0].Power != want[0].Power || math.Abs(h.T01[2].Seconds-want[2].Seconds) > 1e-18 {
		t.Errorf("durations: %v", h.T01)
	}
	if p.Camera.Pixels != [2]int{6000, 4000} || p.Camera.ISO != 200 || h.Lights != Subject {
		t.Errorf("%+v", p)
	}
}

func TestParseNamesWhatIsWrong(t *testing.T) {
	for text, want := range map[string]string{
		"[camera]\nsensor_cm = [2, 1]\n":                        "given in millimetres",
		"[camera]\nsensor_mm = [2]\n":                           "rig.toml:2: sensor_mm has 1 values, not two",
		"[lens]\nf_numbers = [32, 2.8]\n":                       "narrowest aperture first",
		"[[flash]]\nlights = \"all\"\n":                         "subject, rim or backdrop",
		"[[flash]]\npower = \"1/0\"\n":                          "not a power",
		"[[flash]]\n[[flash]]\npower = \"2\"\n":                 "rig.toml:3: power",
		"[[flash]]\npowers = [\"1/128\", \"1/1\"]\n":            "lowest power first",
		"[[flash]]\nt01_us = { \"1/1\" = -3 }\n":                "must be above 0",
		"[[flash]]\nt01_us = { \"1/2\" = 3, \"2/4\" = 3 }\n":    "one power twice",
		"[[flash]]\nname = \"a\"\n[[flash]]\nname = \"a\"\n":    "another head too",
		"[limits]\nmax_drop_m = 2\n":                            "given in millimetres",
		"[trigger]\nbeam_mm = -1\n":                             "rig.toml:2: beam_mm is -1",
		"[camera]\nambient_ev100 = nan\n":                       "ambient_ev100 is NaN",
		"[[flash]]\npowers=[\"1/1\",\"1/8\"]\npower=\"1/16\"\n": "outside powers",
	} {
		_, err := Parse("rig.toml", []byte(text))
		var wrong *input.Error
		if !errors.As(err, &wrong) || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v; want %q", text, err, want)
		}
	}
}

func TestDescribeWritesWhatParseReads(t *testing.T) {
	p, err := Parse("rig.toml", []byte(example))
	if err != nil {
		t.Fatal(err)
	}
	text, err := Describe(p).TOML()
	if err != nil {
		t.Fatal(err)
	}
	q, err := Parse("again", text)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if !reflect.DeepEqual(p, q) {
		t.Errorf("%+v\n%+v\n%s", p, q, text)
	}
}

func TestNewMakesAProfileThatLoads(t *testing.T) {
	s := Store{Root: filepath.Join(t.TempDir(), "rigs")}
	path, err := s.New("green house-2")
	if err != nil {
		t.Fatal(err)
	}
	if p, err := s.Load("green house-2"); err != nil || p.Name != "green house-2" {
		t.Errorf("%+v, %v", p, err)
	}
	var wrong *input.Error
	if _, err := s.Load("green hose-2"); !errors.As(err, &wrong) ||
		!strings.HasPrefix(wrong.Hint, `did you mean "green house-2"?`) {
		t.Errorf("a name misspelt: %v", err)
	}
	if names, err := s.List(); err != nil || !reflect.DeepEqual(names, []string{"green house-2"}) {
		t.Errorf("%v, %v", names, err)
	}
	before, _ := os.ReadFile(path)
	if _, err := s.New("green house-2"); err == nil || !strings.Contains(err.Error(), "is there already") {
		t.Errorf("%v", err)
	}
	if after, _ := os.ReadFile(path); !bytes.Equal(before, after) {
		t.Error("the second New changed rig.toml")
	}
	// Every key of the schema is in the new file to fill in.
	for _, key := range []string{"sensor_mm", "ambient_ev100", "f_numbers", "beam_mm", "t01_us", "t05_us",
		"loss_stops", "max_drop_mm", "recalibrate_days"} {
		if !bytes.Contains(before, []byte("# "+key+" =")) {
			t.Errorf("%s is missing", key)
		}
	}
}

func TestNamesStayInsideTheRoot(t *testing.T) {
	s := Store{Root: t.TempDir()}
	for _, name := range []string{"", ".", "..", "../x", "a/b", `a\b`, "a..b", ".hidden", "a ", "a.", "-x",
		"a\nb", "a\x00", strings.Repeat("a", 65)} {
		if _, err := s.New(name); err == nil {
			t.Errorf("New(%q) made a profile", name)
		}
		if _, err := s.Load(name); err == nil {
			t.Errorf("Load(%q) found a profile", name)
		}
	}
	if entries, _ := os.ReadDir(s.Root); len(entries) != 0 {
		t.Errorf("left behind: %v", entries)
	}
}

func TestOpenFindsTheRoot(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", "/somewhere")
	env := func(v string) func(string) string { return func(string) string { return v } }
	for _, c := range []struct{ given, env, want string }{
		{"a", "b", "a"}, {"", "b", "b"}, {"", "", filepath.FromSlash("/somewhere/leadmark/rigs")},
	} {
		if s, err := Open(c.given, env(c.env)); err != nil || s.Root != c.want {
			t.Errorf("%+v: %v, %v", c, s, err)
		}
	}
}
