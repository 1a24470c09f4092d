package input

import (
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
)

// A file with everything that the program's files have: values, lists, tables, lists of tables, and
// keys of a person's own.
type testFile struct {
	Schema string            `toml:"schema"`
	Frame  []testFrame       `toml:"frame"`
	Trip   *testTrip         `toml:"trip"`
	Own    map[string]string `toml:"own"`
}

type testFrame struct {
	File  string             `toml:"file"`
	Front []float64          `toml:"front_px"`
	Times map[string]float64 `toml:"times"`
}

type testTrip struct {
	Line [][]float64 `toml:"line_px"`
	U    *float64    `toml:"u_mm"`
}

// filled repeats what make gives for 0, 1, 2 ... up to a size.
func filled(size int, make func(i int) string) string {
	var b strings.Builder
	for i := 0; b.Len() < size; i++ {
		b.WriteString(make(i))
	}
	return b.String()
}

// shapes are long files that a person, or a program of hers, could write, and some that nobody
// would.
func shapes() map[string]func(size int) string {
	each := func(make func(i int) string) func(int) string {
		return func(size int) string { return filled(size, make) }
	}
	return map[string]func(size int) string{
		"entries": each(func(i int) string {
			return fmt.Sprintf("[[frame]]\nfile = \"IMG_%05d.JPG\"\nfront_px = [%d, 2]\n", i, i)
		}),
		"inline entries": func(size int) string {
			return "frame = [" + filled(size,
				func(i int) string { return fmt.Sprintf("{file = \"IMG_%05d.JPG\"},\n", i) }) + "]"
		},
		"unknown keys":   each(func(i int) string { return fmt.Sprintf("key%05d = %d\n", i, i) }),
		"unknown tables": each(func(i int) string { return fmt.Sprintf("[table%05d]\na = 1\nb = 2\n", i) }),
		"in entries":     each(func(i int) string { return fmt.Sprintf("[[frame]]\nfil = \"IMG_%05d.JPG\"\n", i) }),
		"inline unknown": func(size int) string {
			return "trip = {" + filled(size, func(i int) string { return fmt.Sprintf("key%05d = 1, ", i) }) +
				"u_mm = 1}"
		},
		"own keys": func(size int) string {
			return "[own]\n" + filled(size, func(i int) string { return fmt.Sprintf("key%05d = \"x\"\n", i) })
		},
		"lists": func(size int) string { return "[trip]\nline_px = [" + strings.Repeat("[0,1],", size/6) + "]\n" },
		"list, entries": func(size int) string {
			return "[trip]\nline_px = [" + strings.Repeat("[],", size/6) + "]\n" +
				strings.Repeat("[[frame]]\n", size/20)
		},
		"long key":  func(size int) string { return strings.Repeat("a", size) + " = 1\n" },
		"long keys": each(func(i int) string { return strings.Repeat("a", 5000) + fmt.Sprint(i, " = 1\n") }),
		"long header": func(size int) string {
			return "[" + strings.Repeat("a", size/2) + "]\n" +
				filled(size/2, func(i int) string { return fmt.Sprintf("k%d = 1\n", i) })
		},
		"known header": func(size int) string {
			return "[schema." + strings.Repeat("a", size/2) + "]\n" +
				filled(size/2, func(i int) string { return fmt.Sprintf("k%d = 1\n", i) })
		},
		"dotted":        func(size int) string { return strings.Repeat("a.", size/2) + "a = 1\n" },
		"known dotted":  func(size int) string { return "schema." + strings.Repeat("a.", size/2) + "a = 1\n" },
		"deep lists":    func(size int) string { return "schema = " + strings.Repeat("[", size) },
		"deep tables":   func(size int) string { return "schema = " + strings.Repeat("{a=", size/3) },
		"comments":      each(func(i int) string { return "# a line\n" }),
		"blank lines":   func(size int) string { return strings.Repeat("\n", size) },
		"one long line": func(size int) string { return "schema = \"" + strings.Repeat("x", size) + "\"\n" },
		"lines in text": func(size int) string {
			return "schema = \"\"\"" + strings.Repeat("x\n", size/2) +
				"\"\"\"\nfile = 1\n"
		},
	}
}

// The check visits each key and counts each line once, and gives the decoder no more to look
// through than a bound: a file twice as long takes twice as long, whatever it holds.
func TestCheckGrowsWithLength(t *testing.T) {
	for name, make := range shapes() {
		for _, size := range []int{100_000, 200_000, 400_000} {
			text := make(size)
			w := walkKeys([]byte(text), reflect.TypeFor[testFile]())
			if w.scanned > len(text) || w.visited > len(text)/2+1 {
				t.Errorf("%s, %d bytes: %d were gone through for their lines, %d keys visited", name, len(text),
					w.scanned, w.visited)
			}
			if one := 100_000; w.load.looked > mostLooked+one*10 {
				t.Errorf("%s, %d bytes: the decoder would look at %d", name, len(text), w.load.looked)
			}
			if len(w.unknown) > maxFaults {
				t.Errorf("%s: %d unknown keys are kept", name, len(w.unknown))
			}
			kept := 0
			for path := range w.lines {
				kept += len(path)
			}
			if kept > 2*len(text) {
				t.Errorf("%s, %d bytes: the names of the keys take %d", name, len(text), kept)
			}
		}
	}
}

// What is too much for the decoder is told before it is begun, and no message is longer than a
// screen.
func TestLongFilesAreAnswered(t *testing.T) {
	fails := map[string]string{"own keys": "can be looked through", "list, entries": "can be looked through",
		"unknown keys":   "more faults like these",
		"unknown tables": "more faults like these", "in entries": "more faults like these",
		"long key": "unknown key aaaa", "deep lists": "nested more than"}
	for name, make := range shapes() {
		var f testFile
		_, err := DecodeStrict("f.toml", []byte(make(300_000)), &f)
		if want := fails[name]; want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
			t.Errorf("%s: %.300v", name, err)
		}
		for _, e := range Faults(err) {
			if what, hint := Describe(e); len(what) > 500 || len(hint) > 500 {
				t.Errorf("%s: a message of %d bytes, its hint of %d: %.100s", name, len(what), len(hint), what)
			}
		}
	}
}

func TestUnknownKeysAreCounted(t *testing.T) {
	var f testFile
	_, err := DecodeStrict("f.toml", []byte(filled(16_000*13,
		func(i int) string { return fmt.Sprintf("key%05d = 1\n", i) })), &f)
	faults := Faults(err)
	if len(faults) != maxFaults+1 || !strings.Contains(err.Error(), "15992 more faults like these") {
		t.Errorf("%d faults: %v", len(faults), err)
	}
}

// Where keys stand is known in every way of writing them.
func TestLinesOfKeys(t *testing.T) {
	text := "\ufeff# head\nschema = \"a\"\n\n[[frame]]\nfile = \"b\"\n[frame.times]\n\"1/2\" = " +
		"3\n[[frame]]\nFile = \"c\"\n" +
		"[trip]\nline_px = [\n[1, 2],\n[3, 4]]\nu_mm = 1\n[own]\n\"a key\" = \"x\"\n"
	var f testFile
	file, err := DecodeStrict("f.toml", []byte(text), &f)
	if err != nil || len(f.Frame) != 2 || f.Frame[1].File != "c" {
		t.Fatal(err, f)
	}
	inline := "trip = {u_mm = 1,\n line_px = []}\nframe = [{file = \"b\"},\n{file = \"c\"}]\n"
	other, err := DecodeStrict("f.toml", []byte(inline), &testFile{})
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []struct {
		file TOMLFile
		key  string
		line int
	}{
		{file, "schema", 2}, {file, "frame[0]", 4}, {file, "frame[0].file", 5}, {file, "frame[0].times.1/2", 7},
		{file, "frame[1].file", 9},
		{file, "trip", 10}, {file, "trip.line_px", 11}, {file, "trip.u_mm", 14}, {file, "own.a key", 16},
		{other, "trip.u_mm", 1}, {other, "trip.line_px", 2}, {other, "frame[0].file", 3}, {other, "frame[1].file", 4},
	} {
		if got := w.file.Fault(w.key, "", "").Line; got != w.line {
			t.Errorf("%s: line %d, want %d", w.key, got, w.line)
		}
	}
}

func TestUnknownKeysAreTold(t *testing.T) {
	for text, want := range map[string]string{
		"\nshema = 1\n":                      "f.toml:2: unknown key shema",
		"[trip]\nu_cm = 1":                   "f.toml:2: unknown key u_cm in [trip]: this is given in millimetres",
		"trip = {\nu_cm = 1}":                "f.toml:2: unknown key u_cm in [trip]: this is given in millimetres",
		"trip.x = 1":                         "f.toml:1: unknown key x in [trip]",
		"[[frame]]\n[[frame]]\nfront = [1]":  "f.toml:3: unknown key front in [frame]: this is given in pixels",
		"frame = [{}, {front = [1]}]":        "f.toml:1: unknown key front in [frame]: this is given in pixels",
		"[ 'tripp' ] # a remark\nu_mm = 1\n": "f.toml:1: unknown key tripp",
		"[[ \"x]\" ]]\n[x.y]\n":              "f.toml:1: unknown key x]\nf.toml:2: unknown key x",
		"schema = 1\nshema = 2":              "f.toml:1: schema wants text in double quotes",
		"shema = 2\nschema = 1":              "f.toml:2: schema wants text in double quotes",
		"shema = \"\"\"\n\n\"\"\"\nschema =": "f.toml:4: expected value, not eof",
	} {
		_, err := DecodeStrict("f.toml", []byte(text), &testFile{})
		if err == nil || err.Error() != want && !strings.HasPrefix(want, "f.toml:4") {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

// What the walk knows is what the decoder takes: a text that one finds an unknown key in, the other
// does.
func FuzzUnknownKeys(f *testing.F) {
	for _, s := range shapes() {
		f.Add(s(60))
	}
	for _, s := range []string{"Schema = \"a\"", "[Frame.Times]\na = 1",
		"[[frame]]\n[frame.times]\n[[FRAME]]\nfile=\"\"", "[own.a]\n", "own.a.b = 1", "[trip.line_px]", "\"\" = 1",
		"frame.file = \"\"", "frame = [[{x = 1}]]", "trip = [{x = 1}]", "own = {a = {x = 1}}", "[x]\n[[x]]",
		"[\"]\"]\n", "['[[' . 'a'] # ]\r\nb = '''\n]'''", "ſchema = 1", "trip = {u_mm = {x = 1}}"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var a, b testFile
		plain := toml.NewDecoder(strings.NewReader(text)).DisallowUnknownFields().Decode(&a)
		_, err := DecodeStrict("f.toml", []byte(text), &b)
		if (plain == nil) != (err == nil) && !strings.HasPrefix(text, "\ufeff") {
			t.Fatalf("%q: %v, but the decoder says %v", text, err, plain)
		}
		var missing *toml.StrictMissingError
		if errors.As(plain, &missing) && !strings.Contains(fmt.Sprint(err), "unknown key") &&
			!strings.Contains(fmt.Sprint(err), "looked through") {
			t.Fatalf("%q: %v, but the decoder finds %d unknown", text, err, len(missing.Errors))
		}
		if plain == nil && !reflect.DeepEqual(a, b) {
			t.Fatalf("%q: %+v, but the decoder reads %+v", text, b, a)
		}
	})
}

// A long name costs no more than it is long: so many edits more than the names that there are need
// not be counted.
func TestNearest(t *testing.T) {
	known := []string{"drop_mm", "speed_mps", "graduation_mm"}
	for name, want := range map[string]string{"drpo_mm": "drop_mm", "Graduaton_mm": "graduation_mm",
		"speedy": "speed_mps", "x": "", strings.Repeat("z", 1<<20): "",
		"graduation_" + strings.Repeat("z", 1000): "graduation_mm"} {
		if got := Nearest(name, known); got != want {
			t.Errorf("%.20s: %q, want %q", name, got, want)
		}
	}
}

func TestSchemaOf(t *testing.T) {
	for text, want := range map[string]string{"schema = \"a/1\"\n": "a/1",
		"\ufeff# x\nb = 1\nschema = \"a/1\"": "a/1", "[t]\nschema = \"a/1\"": "", "schema = 1": "", "": "",
		"schema = \"a": ""} {
		if got := SchemaOf([]byte(text)); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func BenchmarkDecodeStrict(b *testing.B) {
	for name, make := range shapes() {
		for _, size := range []int{100_000, 1_000_000} {
			text := []byte(make(size))
			b.Run(fmt.Sprintf("%s/%d", strings.ReplaceAll(name, " ", "-"), size), func(b *testing.B) {
				for b.Loop() {
					_, _ = DecodeStrict("f.toml", text, &testFile{})
				}
			})
		}
	}
}
