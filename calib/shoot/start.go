package shoot

import (
	"bytes"
	"fmt"
	"path/filepath"
	"reflect"

	"leadmark/calib/input"
	"leadmark/calib/store"
)

// Known is what Start can fill in; "" for what is not known.
type Known struct{ Rig, Subject string }

// Start writes shoot.toml into the folder of a shoot, filled in as far as is known, and says what a
// person has to fill in, a sentence each. One that is there already is left as it is, which is an
// *input.Error.
func Start(dir string, k Known) (toFill []string, err error) {
	path := filepath.Join(dir, FileName)
	if !isFolder(dir) {
		return nil, &input.Error{File: dir, What: "there is no such folder",
			Hint: "make it and copy the frames of one shoot into it"}
	}
	results := resultsBeside(dir)
	made, err := store.Create(store.System(), path, startText(k, results))
	if err != nil {
		return nil, err
	}
	if !made {
		return nil, &input.Error{File: path, What: "is there already; it was left as it is",
			Hint: "edit it, or move it away to start anew"}
	}
	for _, key := range []struct{ name, value string }{{"rig", k.Rig}, {"subject", k.Subject}} {
		if key.value == "" {
			toFill = append(toFill, key.name+": "+help(key.name))
		}
	}
	scale := "the scale and the trip line: scale_from where a calibration run was taken with the " +
		"camera in the same place; else px_per_mm and line_px"
	if len(results) > 0 {
		scale += "; " + results[0] + " is one to look at"
	}
	return append(toFill, "travel: "+help("travel"), scale), nil
}

func help(key string) string { return input.Help(reflect.TypeFor[file](), key) }

// startText is a shoot.toml: what is known as keys, what must be stated marked, the rest as
// comments.
func startText(k Known, results []string) []byte {
	var b bytes.Buffer
	b.WriteString("# How these frames were taken. A line that begins with # is not read.\n\n")
	fill := func(key, value string) {
		if value == "" {
			fmt.Fprintf(&b, "%s = \"\"  # FILL IN: %s\n", key, help(key))
			return
		}
		fmt.Fprintf(&b, "%s = %s  # %s\n", key, input.BasicString(value), help(key))
	}
	fill("rig", k.Rig)
	fill("subject", k.Subject)
	fill("travel", "")
	b.WriteString("\n# FILL IN one of these two, without the #.\n")
	for _, r := range append(results, "../night1-report/result.json")[:max(1, len(results))] {
		fmt.Fprintf(&b, "# scale_from = %s  # %s; the trip line is taken from there too\n",
			input.BasicString(r), help("scale_from"))
	}
	fmt.Fprintf(&b, "# px_per_mm = 24.6  # %s\n", help("px_per_mm"))
	fmt.Fprintf(&b,
		"\n# Where they can be told.\n# empty = \"IMG_0001.JPG\"  # %s\n# exit_px = [20, 591]  # %s\n",
		help("empty"), help("exit_px"))
	fmt.Fprintf(&b, "\n# Beside px_per_mm:\n# [trip]\n# line_px = [[20, 0], [20, 999]]  # %s\n",
		input.Help(reflect.TypeFor[tripFile](), "line_px"))
	return b.Bytes()
}

// resultsBeside are the results of calibration runs that lie in folders beside the shoot's, as seen
// from there.
func resultsBeside(dir string) []string {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return nil
	}
	// a pattern that is none finds nothing
	found, _ := filepath.Glob(filepath.Join(filepath.Dir(abs), "*-report", "result.json"))
	var out []string
	for _, path := range found {
		if near, err := filepath.Rel(abs, path); err == nil {
			out = append(out, filepath.ToSlash(near))
		}
	}
	return out
}
