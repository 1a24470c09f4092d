package runfile

import (
	"bytes"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"leadmark/calib/input"
)

func FuzzRunFile(f *testing.F) {
	f.Add([]byte(wholeRun))
	f.Add([]byte("method = \"push\"\ntravel = \"up\"\n[conditions]\nspeed_mps = 1.5\n"))
	f.Add([]byte("[[conditions]]\n[ruler.mark]\n\"\\u0000\" = 1"))
	f.Fuzz(func(t *testing.T, text []byte) {
		var a, b File
		if _, err := input.DecodeStrict("run.toml", text, &a); err != nil {
			if what, _ := input.Describe(err); what == "" {
				t.Error("an error that says nothing")
			}
			return
		}
		_, _ = parseRun("run.toml", text, Overrides{})
		again, err := toml.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := input.DecodeStrict("again", again, &b); err != nil {
			t.Fatalf("%v\n%s", err, again)
		}
		if x, _ := toml.Marshal(b); string(x) != string(again) { // as text: NaN is not equal to itself
			t.Errorf("%s\n%s", again, x)
		}
	})
}

func FuzzShots(f *testing.F) {
	f.Add([]byte("frame,drop_mm,delay_ms,use,why\na.jpg,400,1.5,no,\"blurred, badly\"\n"), false)
	f.Add([]byte("\ufeffwhy,frame,speed_mps,group\r\n# c\r\n,b.jpg,,a\r\n"), true)
	f.Add([]byte("frame,why\n\"a\r\r\n,b\",\"two\r\r\nlines\"\nc,\"two\r\r\nlines\"\n"), false)
	f.Fuzz(func(t *testing.T, text []byte, push bool) {
		run := Run{Method: Drop}
		if push {
			run.Method = Push
		}
		shots, err := ParseShots("shots.csv", text, run)
		if err != nil {
			return
		}
		again, err := ParseShots("again", writeShots(shots), run)
		if err != nil {
			t.Fatalf("%v\n%s", err, writeShots(shots))
		}
		for i := range shots {
			shots[i].Line, again[i].Line = 0, 0
		}
		if len(shots) != len(again) || len(shots) > 0 && !reflect.DeepEqual(shots, again) {
			t.Errorf("%+v\n%+v", shots, again)
		}
	})
}

// writeShots writes shots as shots.csv, in units whose change of scale is exact both ways.
func writeShots(shots []ShotEntry) []byte {
	var b strings.Builder
	b.WriteString(csvLine(shotColumns()))
	for _, s := range shots {
		use := "no"
		if s.Use {
			use = "yes"
		}
		b.WriteString(csvLine([]string{s.Frame, statedCell(s.Drop, 1e-3, s.Stated.Drop),
			statedCell(s.Speed, 1, s.Stated.Speed), statedCell(s.Delay, 1e-3, s.Stated.Delay), s.Group, use, s.Why}))
	}
	return []byte(b.String())
}

// statedCell is a cell, and 0 where that is stated.
func statedCell(x, scale float64, is bool) string {
	if is && x == 0 {
		return "0"
	}
	return cell(x, scale)
}

// cell finds the shortest decimal that reads back as x.
func cell(x, scale float64) string {
	if x == 0 {
		return ""
	}
	for n := 1; n < 25; n++ {
		s := strconv.FormatFloat(x/scale, 'g', n, 64)
		if y, _ := strconv.ParseFloat(s, 64); y*scale == x {
			return s
		}
	}
	return strconv.FormatFloat(x/scale, 'g', -1, 64)
}

func FuzzReadings(f *testing.F) {
	f.Add([]byte("frame,advance_mm,u_mm,drop_mm\na.jpg,160.3,0.06,400\nb.jpg,,,400\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		run := Run{Method: Drop, Shots: []ShotEntry{{Frame: "a.jpg", Use: true}}, HasShots: true}
		list, err := ParseReadings("readings.csv", text, run)
		if err != nil {
			return
		}
		var b strings.Builder
		b.WriteString("frame,advance_mm,u_mm\n")
		for _, h := range list {
			a, u := "", ""
			if h.Read {
				a, u = cell(h.Advance, 1e-3), cell(h.U, 1e-3)
				if a == "" {
					a = "0"
				}
				if u == "" {
					u = "0"
				}
			}
			b.WriteString(csvLine([]string{h.Frame, a, u}))
		}
		again, err := ParseReadings("again", []byte(b.String()), run)
		if err != nil || len(again) != len(list) {
			t.Fatalf("%v\n%s", err, b.String())
		}
		for i := range list {
			if again[i].Read != list[i].Read || again[i].Advance != list[i].Advance || again[i].U != list[i].U ||
				again[i].Frame != list[i].Frame {
				t.Errorf("%+v\n%+v", list[i], again[i])
			}
		}
	})
}

// FuzzCorrections: what is read of corrections.toml and written again reads the same. Of
// corrections that say nothing nothing is written.
func FuzzCorrections(f *testing.F) {
	f.Add([]byte("schema = \"leadmark/corrections/1\"\n[[frame]]\nfile = \"a.jpg\"\nleft_out = \"blurred\"\n"))
	f.Add([]byte("schema = \"leadmark/corrections/1\"\n[trip]\nline_px = [[1, 2], [3, 4]]\n"))
	f.Add([]byte("schema = \"leadmark/corrections/9\"\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		c, err := ParseCorrections("corrections.toml", text)
		if err != nil || c.Empty() {
			return
		}
		again, err := ParseCorrections("again", c.Text())
		if err != nil {
			t.Fatalf("%v\n%s", err, c.Text())
		}
		if !bytes.Equal(c.Text(), again.Text()) {
			t.Errorf("%s\n%s", c.Text(), again.Text())
		}
	})
}
