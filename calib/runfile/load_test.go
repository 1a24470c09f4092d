package runfile

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/calib/input"
	"leadmark/vision/ruler"
)

// folder makes a run's folder of files given as name, text, name, text.
func folder(t *testing.T, files ...string) string {
	t.Helper()
	dir := t.TempDir()
	for i := 0; i < len(files); i += 2 {
		if err := os.WriteFile(filepath.Join(dir, files[i]), []byte(files[i+1]), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

const wholeRun = `rig    = "greenhouse"
method = "drop"
travel = "down"

[ruler]
graduation_mm = 1.0
front_mm = -2.5

[trip]
line_px = [[2010, 0], [2010, 3999]]
u_mm = 0.5

[conditions]
drop_mm = 400
delay_ms = 1.5
latitude_deg = 45
height_m = 1000
u_drop_mm = 1.0
u_drop_shot_mm = 0.3
u_drop_common_mm = 0.5
`

func TestLoadTurnsEveryValueIntoSIUnits(t *testing.T) {
	dir := folder(t, "run.toml", "\ufeff"+strings.ReplaceAll(wholeRun, "\n", "\r\n"),
		"shots.csv", "\ufeff# a comment\r\nuse,why,frame,delay_ms,# "+
			"taken\r\n,,a.jpg,,10:00\r\nno,blurred,b.jpg,4,\r\n\r\n",
		"a.jpg", "", "b.jpg", "")
	r, err := Load(dir, Overrides{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Rig != "greenhouse" || r.Method != Drop || r.Travel != Down || r.Dir != dir {
		t.Errorf("head: %+v", r)
	}
	near := func(name string, got, want float64) {
		if math.Abs(got-want) > 1e-12*math.Abs(want) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
	near("graduation", r.Ruler.Graduation, 1e-3)
	near("front", *r.Ruler.Front, -2.5e-3)
	near("trip u", r.Trip.U, 0.5e-3)
	if want := (ruler.Line{A: ruler.Point{X: 2010}, B: ruler.Point{X: 2010, Y: 3999}}); *r.Trip.Line != want {
		t.Errorf("trip line: %v", *r.Trip.Line)
	}
	c := r.Defaults
	near("drop", c.Drop, 0.4)
	near("u drop", c.DropU, 1e-3)
	near("u drop shot", c.DropShotU, 0.3e-3)
	near("u drop common", c.DropCommonU, 0.5e-3)
	near("gravity u", c.GravityU, NormalGravityU)
	if math.Abs(c.Gravity-9.80311294) > 1e-8 { // as in TestNormalGravity
		t.Errorf("gravity: %v", c.Gravity)
	}
	if len(r.Shots) != 2 || !r.HasShots {
		t.Fatalf("shots: %+v", r.Shots)
	}
	near("default delay", r.Shots[0].Delay, 1.5e-3)
	near("own delay", r.Shots[1].Delay, 4e-3)
	if a, b := r.Shots[0], r.Shots[1]; !a.Use || b.Use || b.Why != "blurred" || b.Frame != "b.jpg" || b.Line != 4 {
		t.Errorf("shots: %+v", r.Shots)
	}
}

func TestLoadNamesWhatIsWrongAndWhere(t *testing.T) {
	head := "method = \"drop\"\ntravel = \"down\"\n"
	for _, c := range []struct {
		name  string
		files []string
		want  []string // parts of message and hint
	}{
		{"unknown key", []string{"run.toml", head + "[ruler]\ngraduaton_mm = 1\n"},
			[]string{"run.toml:4", "unknown key graduaton_mm in [ruler]", "nearest known key is graduation_mm"}},
		{"unknown table", []string{"run.toml", head + "[condition]\ndrop_mm = 1\n"},
			[]string{"run.toml:3", "unknown key condition", "conditions"}},
		{"key in another table", []string{"run.toml", head + "drop_mm = 400\n"},
			[]string{"run.toml:3", "unknown key drop_mm", "belongs in [conditions]"}},
		{"key of the top", []string{"run.toml", head + "[conditions]\nrig = \"a\"\n"},
			[]string{"run.toml:4", "at the top of the file"}},
		{"centimetres", []string{"run.toml", head + "[conditions]\ndrop_cm = 40\n"},
			[]string{"run.toml:4", "unknown key drop_cm in [conditions]: this is given in millimetres", "drop_mm"}},
		{"metres", []string{"run.toml", head + "[conditions]\ndrop_m = 0.4\n"},
			[]string{"run.toml:4", "unknown key drop_m in [conditions]: this is given in millimetres", "drop_mm"}},
		{"no unit", []string{"run.toml", head + "[conditions]\nu_drop = 1\n"},
			[]string{"unknown key u_drop in [conditions]: this is given in millimetres", "u_drop_mm"}},
		{"seconds", []string{"run.toml", head + "[conditions]\ndelay_s = 1\n"},
			[]string{"unknown key delay_s in [conditions]: this is given in milliseconds", "delay_ms"}},
		{"km/h", []string{"run.toml", head + "[conditions]\nspeed_kmh = 1\n"},
			[]string{"unknown key speed_kmh in [conditions]: this is given in metres per second", "speed_mps"}},
		{"height of the place", []string{"run.toml", head + "[conditions]\nheight_mm = 400\n"},
			[]string{"height_m", "the fall is drop_mm"}},
		{"text for number", []string{"run.toml", head + "[conditions]\ndrop_mm = \"400\"\n"},
			[]string{"run.toml:4", "conditions.drop_mm wants a number"}},
		{"number for text", []string{"run.toml", "method = 3\n"},
			[]string{"run.toml:1", "method wants text in double quotes"}},
		{"unit after number", []string{"run.toml", head + "[conditions]\ndrop_mm = 400 mm\n"},
			[]string{"run.toml:4", "carry no unit"}},
		{"decimal comma", []string{"run.toml", head + "[conditions]\ndrop_mm = 1,5\n"},
			[]string{"run.toml:4", "numbers use a point"}},
		{"negative height", []string{"run.toml", head + "[conditions]\ndrop_mm = -400\n"},
			[]string{"run.toml:4", "drop_mm is -400; it cannot be negative"}},
		{"no height", []string{"run.toml", head + "[conditions]\ndrop_mm = 0\n"},
			[]string{"drop_mm is 0; it must be above 0"}},
		{"not a number", []string{"run.toml", head + "[conditions]\ndrop_mm = nan\n"},
			[]string{"run.toml:4", "not a finite number"}},
		{"infinite", []string{"run.toml", head + "[conditions]\nu_drop_mm = inf\n"},
			[]string{"run.toml:4", "not a finite number"}},
		{"zero graduation", []string{"run.toml", head + "[ruler]\ngraduation_mm = 0\n"},
			[]string{"run.toml:4", "graduation_mm is 0; it must be above 0"}},
		{"gravity in other units", []string{"run.toml", head + "[conditions]\ngravity_mps2 = 980.665\n"},
			[]string{"gravity_mps2 is 980.665; it must lie between 9.7 and 9.9"}},
		{"two gravities", []string{"run.toml", head + "[conditions]\ngravity_mps2 = 9.81\nlatitude_deg = 50\n"},
			[]string{"run.toml:5", "latitude_deg and gravity_mps2"}},
		{"height without latitude", []string{"run.toml", head + "[conditions]\nheight_m = 50\n"},
			[]string{"height_m is stated without latitude_deg"}},
		{"line of equal points", []string{"run.toml", head + "[trip]\nline_px = [[5, 5], [5, 5]]\n"},
			[]string{"run.toml:4", "line of two equal points"}},
		{"line of three points", []string{"run.toml", head + "[trip]\nline_px = [[5, 5], [5, 6], [7, 8]]\n"},
			[]string{"run.toml:4", "is not two points"}},
		{"line and still", []string{"run.toml", head + "[trip]\nline_px = [[5, 5], [5, 9]]\nstill = \"a.jpg\"\n",
			"a.jpg", ""}, []string{"run.toml:5", "still and line_px"}},
		{"neither", []string{"run.toml", head + "[trip]\nu_mm = 1\n"},
			[]string{"run.toml:3", "neither line_px nor still"}},
		{"still not there", []string{"run.toml", head + "[trip]\nstill = \"a.jpg\"\n"},
			[]string{"still names a.jpg, which is not in the folder"}},
		{"still elsewhere", []string{"run.toml", head + "[trip]\nstill = \"../a.jpg\"\n"},
			[]string{"not the name of a frame"}},
		{"band without place", []string{"run.toml", head + "[ruler]\nmark = \"band\"\n"},
			[]string{"run.toml:4", "band_mm is not stated"}},
		{"place without band", []string{"run.toml", head + "[ruler]\nband_mm = 20\n"},
			[]string{"run.toml:4", `mark = "band"`}},
		{"method", []string{"run.toml", "method = \"fall\"\ntravel = \"down\"\n"},
			[]string{"run.toml:1", "drop or push"}},
		{"travel missing", []string{"run.toml", "method = \"drop\"\n"}, []string{"travel is not stated"}},
		{"speed of a drop", []string{"run.toml", head + "[conditions]\nspeed_mps = 1\n"},
			[]string{"run.toml:4", "method is drop"}},
		{"key twice", []string{"run.toml", head + "travel = \"up\"\n"}, []string{"run.toml:3", "already defined"}},
		{"not TOML", []string{"run.toml", "\xff\xfe\x00"}, []string{"run.toml"}},
		{"nothing at all", nil, []string{"the folder is empty", "copy the frames"}},
		{"no run.toml", []string{"a.jpg", ""}, []string{"no run.toml", "--start"}},
		{"RAW beside its JPEG", []string{"run.toml", head, "shots.csv", "frame,drop_mm\na.cr2,400\n", "a.cr2", "",
			"a.JPG", ""}, []string{"shots.csv:2", "a.JPG", "read in its place", "list a.JPG"}},
		{"frame not there", []string{"run.toml", head, "shots.csv", "frame,drop_mm\na.jpg,400\nb.jpg,400\n",
			"a.jpg", ""}, []string{"shots.csv:3", "column frame", "b.jpg is not in the folder"}},
		{"frame in other letters", []string{"run.toml", head, "shots.csv", "frame,drop_mm\nA.JPG,400\n", "a.jpg",
			""}, []string{"the folder has a.jpg"}},
		{"frame twice", []string{"run.toml", head, "shots.csv", "frame,drop_mm\na.jpg,400\na.jpg,500\n", "a.jpg",
			""}, []string{"shots.csv:3", "a.jpg is named twice, first on line 2"}},
		{"unknown column", []string{"run.toml", head, "shots.csv", "frame,dorp_mm\n"},
			[]string{"shots.csv:1", `"dorp_mm"`, "nearest known column is drop_mm"}},
		{"column of another unit", []string{"run.toml", head, "shots.csv", "frame,drop_cm\n"},
			[]string{"shots.csv:1", "given in millimetres", "drop_mm"}},
		{"column twice", []string{"run.toml", head, "shots.csv", "frame,frame\n"},
			[]string{"shots.csv:1", "is there twice"}},
		{"no frame column", []string{"run.toml", head, "shots.csv", "drop_mm\n4\n"},
			[]string{"shots.csv:1", "column frame: is missing"}},
		{"semicolons", []string{"run.toml", head, "shots.csv", "frame;drop_mm\na.jpg;4\n"},
			[]string{"not separated by commas"}},
		{"bad number", []string{"run.toml", head, "shots.csv", "frame,drop_mm\na.jpg,4OO\n", "a.jpg", ""},
			[]string{"shots.csv:2", "column drop_mm", `"4OO" is not a number`}},
		{"negative in table", []string{"run.toml", head, "shots.csv", "frame,drop_mm\na.jpg,-1\n", "a.jpg", ""},
			[]string{"shots.csv:2", "cannot be negative"}},
		{"decimal comma in table", []string{"run.toml", head, "shots.csv", "frame,drop_mm\na.jpg,\"1,5\"\n",
			"a.jpg", ""}, []string{"with a point"}},
		{"too many cells", []string{"run.toml", head, "shots.csv", "frame,drop_mm\na.jpg,1,5\n", "a.jpg", ""},
			[]string{"shots.csv:2", "3 cells"}},
		{"open quote", []string{"run.toml", head, "shots.csv", "frame,drop_mm\n\"a.jpg,1\n"},
			[]string{"shots.csv", "double quotes"}},
		{"use", []string{"run.toml", head, "shots.csv", "frame,use\na.jpg,maybe\n", "a.jpg", ""},
			[]string{"column use", "yes or no"}},
		{"group of a drop", []string{"run.toml", head, "shots.csv", "frame,group\na.jpg,a\n", "a.jpg", ""},
			[]string{"column group", "method is drop"}},
		{"empty table", []string{"run.toml", head, "shots.csv", "# nothing\n"}, []string{"no header line"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Load(folder(t, c.files...), Overrides{})
			var fault *input.Error
			if !errors.As(err, &fault) {
				t.Fatalf("%T %v is not an input.Error", err, err)
			}
			what, hint := input.Describe(err)
			for _, part := range c.want {
				if !strings.Contains(what+"\n"+hint, part) {
					t.Errorf("%q is missing in\n%s\nhint: %s", part, what, hint)
				}
			}
		})
	}
}

func TestLoadListsEveryFaultOfAFile(t *testing.T) {
	_, err := Load(folder(t, "run.toml", "method = \"drop\"\ntravel = \"down\"\nfoo = 1\n[conditions]\nbar = "+
		"2\n"), Overrides{})
	if n := len(input.Faults(err)); n != 2 {
		t.Errorf("%d faults, want 2: %v", n, err)
	}
}

func TestFlagsStandInForRunToml(t *testing.T) {
	var o Overrides
	for key, text := range map[string]string{"method": "push", "travel": "left", "conditions.speed_mps": "1.5",
		"trip.line_px": "[[1,2],[3,4]]", "ruler.front_mm": "0"} {
		o.Set(key, text)
	}
	r, err := Load(folder(t, "a.jpg", ""), o)
	if err != nil {
		t.Fatal(err)
	}
	if r.Method != Push || r.Travel != Left || r.Defaults.Speed != 1.5 || r.Trip.Line.B.Y != 4 || *r.Ruler.Front != 0 {
		t.Errorf("%+v", r)
	}
	plain, err := Load(folder(t, "run.toml", wholeRun), Overrides{})
	if err != nil {
		t.Fatal(err)
	}
	o = Overrides{}
	o.Set("conditions.drop_mm", "-4")
	_, err = Load(folder(t, "run.toml", wholeRun), o)
	if what, _ := input.Describe(err); !strings.HasPrefix(what, "--drop-mm: is -4; it cannot be negative") {
		t.Errorf("a wrong flag is named as %q", what)
	}
	o.Set("conditions.drop_mm", "500")
	other, err := Load(folder(t, "run.toml", wholeRun), o)
	if err != nil || other.Defaults.Drop != 0.5 || other.Digest == plain.Digest {
		t.Errorf("an override: drop %v, digest equal %v, %v", other.Defaults.Drop, other.Digest == plain.Digest, err)
	}
}

func TestFilesAreBounded(t *testing.T) {
	_, err := Load(folder(t, "run.toml", strings.Repeat("#", maxRunFile+1)), Overrides{})
	var input *input.Error
	if !errors.As(err, &input) || !strings.Contains(err.Error(), "larger than") {
		t.Errorf("%v", err)
	}
	dir := folder(t)
	if err := os.Mkdir(filepath.Join(dir, "run.toml"), 0o777); err != nil {
		t.Fatal(err)
	}
	if _, err := Load(dir, Overrides{}); !errors.As(err, &input) || !strings.Contains(err.Error(), "is not a file") {
		t.Errorf("%v", err)
	}
}
