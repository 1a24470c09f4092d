package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/jsonschema-go/jsonschema"

	"leadmark/calib/record"
	"leadmark/calib/schemas"
	"leadmark/calib/shoot"
)

// schemasOf are the schemas, ready to hold documents against.
func schemasOf(t *testing.T) map[string]*jsonschema.Resolved {
	t.Helper()
	all, err := schemas.All()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]*jsonschema.Resolved{}
	for key, s := range all {
		if out[key], err = s.Resolve(nil); err != nil {
			t.Fatalf("%s: %v", key, err)
		}
	}
	return out
}

// said is what a command prints.
func said(t *testing.T, args ...string) string {
	t.Helper()
	var out, notes bytes.Buffer
	if err := run(t.Context(), args, &out, &notes); err != nil {
		t.Fatalf("%v: %v\n%s", args, err, notes.String())
	}
	return out.String()
}

// document is a text of JSON as the schemas take it.
func document(t *testing.T, text string) map[string]any {
	t.Helper()
	var d map[string]any
	if err := json.Unmarshal([]byte(text), &d); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return d
}

// Every document that a command prints is what its schema says, and every schema has one: runs read
// from frames and by hand, what the rig's commands say of them, plans and a shoot that is checked.
func TestDocumentsFollowTheirSchemas(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	rigs := []string{"--rigs", in("rigs")}
	all := schemasOf(t)
	printed := map[string]string{}
	hold := func(args ...string) {
		t.Helper()
		for _, text := range documentsOf(said(t, append(args, rigs...)...)) {
			d := document(t, text)
			key, _ := d["schema"].(string)
			if all[key] == nil {
				t.Errorf("%v: no schema of %q", args, key)
			} else if err := all[key].Validate(d); err != nil {
				t.Errorf("%v: %v", args, err)
			}
			if sum, _ := d["inputs_sha256"].(string); len(sum) != 64 {
				t.Errorf("%v: made from %q", args, sum)
			}
			printed[key] = text
		}
	}
	if err := os.Mkdir(in("bees"), 0o777); err != nil {
		t.Fatal(err)
	}
	drawShoot(t, in("bees"), 6)
	said(t, append([]string{"rig", "new", "greenhouse"}, rigs...)...)
	hold("calibrate", in("night0"), "--start", "--method", "drop", "--goal-ms", "0.5", "--json")
	for i, night := range []string{"night1", "night2"} {
		hold("calibrate", readByHand(t, in(night), float64(i)), "--readings", in(night+"/read.csv"), "--method", "drop",
			"--rig", "greenhouse", "--accept", "--json", "--out", in(night+"-report"))
	}
	hold("rig", "list", "--json")
	hold("rig", "show", "greenhouse", "--json")
	hold("rig", "compare", "greenhouse", "1", "2", "--json")
	hold("rig", "restore", "greenhouse", "1", "--json")
	hold("rig", "history", "greenhouse", "--json")
	hold("plan", "--preset", "mason-bee", "--lag-ms", "52", "--spread-ms", "0.8", "--json")
	hold("check", in("bees"), "--lag-ms", "52", "--spread-ms", "0.5", "--json")
	said(t, "demo", in("night3"))
	hold("read", in("night3/IMG_0002.JPG"), in("night3/IMG_0005.JPG"), "--json")
	hold("calibrate", in("night3"), "--json")
	for key := range all {
		if printed[key] == "" {
			t.Errorf("no document of %s was printed", key)
		}
	}
	refuseBroken(t, all, printed)
}

// readByHand makes a run whose advances were read by hand: drops from two heights, a lag of 52 ms and
// so many milliseconds more.
func readByHand(t *testing.T, dir string, more float64) string {
	t.Helper()
	table := "frame,advance_mm,u_mm,drop_mm\n"
	for i := range 12 {
		drop, lag := 0.1+0.4*float64(i%2), 0.052+1e-3*more+4e-4*float64(i%5-2)
		advance := math.Sqrt(2*9.80665*drop)*lag + 9.80665*lag*lag/2
		table += fmt.Sprintf("IMG_%04d.JPG,%.3f,0.1,%.0f\n", i+1, 1e3*advance, 1e3*drop)
	}
	if err := errors.Join(os.Mkdir(dir, 0o777),
		os.WriteFile(filepath.Join(dir, "read.csv"), []byte(table), 0o666)); err != nil {
		t.Fatal(err)
	}
	return dir
}

// documentsOf are the documents of a text: one that is indented, or one a line.
func documentsOf(text string) []string {
	if strings.HasPrefix(text, "{\n") {
		return []string{text}
	}
	return strings.Split(strings.TrimSpace(text), "\n")
}

// refuseBroken holds that a document that is not what its schema says is told from one that is.
func refuseBroken(t *testing.T, all map[string]*jsonschema.Resolved, printed map[string]string) {
	t.Helper()
	lag := func(d map[string]any) map[string]any { return d["lag"].(map[string]any) }
	frame := func(d map[string]any) map[string]any { return d["frames"].([]any)[0].(map[string]any) }
	for name, c := range map[string]struct {
		of     string
		damage func(d map[string]any)
	}{
		"another schema":      {record.Schema, func(d map[string]any) { d["schema"] = "leadmark/result/2" }},
		"no schema":           {record.Schema, func(d map[string]any) { delete(d, "schema") }},
		"no generator":        {record.Schema, func(d map[string]any) { delete(d, "generator") }},
		"unknown key":         {record.Schema, func(d map[string]any) { d["lagg"] = 1.0 }},
		"lag as text":         {record.Schema, func(d map[string]any) { lag(d)["value_ms"] = "38.2 ms" }},
		"lag without its u":   {record.Schema, func(d map[string]any) { delete(lag(d), "u_ms") }},
		"half an interval":    {record.Schema, func(d map[string]any) { lag(d)["interval95_ms"] = []any{37.0} }},
		"frames as one":       {record.Schema, func(d map[string]any) { d["frames"] = frame(d) }},
		"a frame of no file":  {record.Schema, func(d map[string]any) { delete(frame(d), "file") }},
		"warnings left out":   {record.Schema, func(d map[string]any) { delete(d, "warnings") }},
		"a verdict as number": {shoot.Schema, func(d map[string]any) { frame(d)["status"] = 1.0 }},
		"three points a nose": {shoot.Schema, func(d map[string]any) { frame(d)["nose_px"] = []any{1.0, 2.0, 3.0} }},
	} {
		d := document(t, printed[c.of])
		if err := all[c.of].Validate(d); err != nil {
			t.Fatalf("before it was broken: %v", err)
		}
		if c.damage(d); all[c.of].Validate(d) == nil {
			t.Errorf("%s is not told", name)
		}
	}
}
