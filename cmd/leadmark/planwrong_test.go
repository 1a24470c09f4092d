package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

// wrongPlan is a command line with something bad in it: flags of plan, the exit status, and what
// must and must not be printed.
type wrongPlan struct {
	args          string
	want          int
	out, err, not []string
}

// wrongPlans is every bad input of a plan.
func wrongPlans() []wrongPlan {
	return []wrongPlan{
		// A subject faster than the rig can follow: a plan is had, and says what it comes to.
		{args: `--rig shed --subject bee.toml --lag-ms 52 --spread-ms 2 --speed-mps 20 --speed-sd-mps 6`, want: 0,
			out: []string{`too-fast: the subject is fast for this rig: the field that holds it is [0-9]+ body lengths wide`}},
		{args: `--rig shed $bee --speed-mps 6 --field-mm 60`, want: 0,
			out: []string{`not-frozen: the flash of [0-9]+ µs blurs the motion by more than`}},
		{args: `--rig shed $bee --moment 35`, want: 0,
			out: []string{`too-slow: the rig is too slow to have the nose at 35 mm`, `the beam must stand back by 26`}},
		// A field the lens cannot give.
		{args: `--rig shed $bee --field-mm 10`, want: 2,
			err: []string{`error: --field-mm: is 10; this lens gives no field narrower than 32.2 mm, at its closest focus`, `hint: ask for a wider field`}},
		{args: `--rig shed $bee --field-mm 60`, want: 0,
			out: []string{`field-clips: a field of 60 mm holds the whole body in [0-9]+ % of trips only`}},
		// Powers outside the head's range: set, and needed.
		{args: `--rig outside $bee`, want: 2, err: []string{`rig.toml:[0-9]+: power is 1/256, outside powers`}},
		{args: `--rig shed $bee --f-number 32 --iso 1`, want: 0,
			out: []string{`too-weak: key lacks [0-9.]+ stops even at 1/1`}},
		{args: `--rig shed $bee --f-number 2.8 --iso 6400`, want: 0,
			out: []string{`too-strong: key is [0-9.]+ stops too bright even at 1/128`}},
		// A missing duration: said, never made up.
		{args: `--rig bare $bee`, want: 0,
			out: []string{`no-duration: key: the rig does not state how long it flashes at 1/`,
				`Frozen +not told`, `A keeper +at most`}},
		{args: `--rig bare $bee --json`, want: 0, not: []string{`"t01_us"`, `"frozen"`, `"trips"`}},
		// Zero and negative sizes.
		{args: `--rig shed $bee --length-mm 0`, want: 2, err: []string{`error: --length-mm: is 0; it must be above 0`}},
		{args: `--rig shed --subject negative.toml --lag-ms 52 --spread-ms 0.8`, want: 2,
			err: []string{`error: negative.toml:3: height_mm is -6; it cannot be negative`}},
		{args: `--rig shed $bee --speed-mps 0`, want: 2, err: []string{`--speed-mps: is 0; it must be above 0`}},
		{args: `--rig shed $bee --print-mm -5`, want: 2, err: []string{`--print-mm: is -5; it must be above 0`}},
		{args: `--rig shed $bee --field-mm 0`, want: 2, err: []string{`--field-mm: is 0; it must be above 0`}},
		{args: `--rig shed $bee --moment 0`, want: 2, err: []string{`--moment: is 0; it must be above 0`}},
		// A calibration too poor to plan with.
		{args: `--rig poor --subject bee.toml`, want: 1,
			err: []string{`error: the calibration of poor is too poor to plan with: its spread rests on 1.2 degrees of freedom`, `hint: calibrate with more shots from two heights or more, or assume values: --lag-ms L --spread-ms S`}},
		{args: `--rig nospread --subject bee.toml`, want: 1,
			err: []string{`too poor to plan with: it tells no lag, or no spread`}},
		{args: `--rig poor $bee`, want: 0, out: []string{`lag-assumed`}},
		// A rig never calibrated, a rig that is not there, and no rig at all.
		{args: `--rig shed --subject bee.toml`, want: 1, err: []string{`shed has never been calibrated`}},
		{args: `--rig nowhere --subject bee.toml`, want: 2, err: []string{`rig "nowhere": does not exist`}},
		{args: `--subject bee.toml`, want: 2, err: []string{`--rig: is not stated`}},
		{args: `--subject bee.toml --lag-ms 52`, want: 2, err: []string{`--lag-ms: and --spread-ms go together`}},
		{args: `--subject bee.toml --lag-ms 0 --spread-ms 0.8`, want: 2,
			err: []string{`--lag-ms: is 0; it must be above 0`}},
		{args: `--subject bee.toml --lag-ms 52 --spread-ms -1`, want: 2,
			err: []string{`--spread-ms: is -1; it cannot be negative`}},
		// Files and flags.
		{args: `--subject nothing.toml --lag-ms 52 --spread-ms 0.8`, want: 2,
			err: []string{`nothing.toml: there is no such file`}},
		{args: `--subject unknown.toml --lag-ms 52 --spread-ms 0.8`, want: 2,
			err: []string{`unknown.toml:2: unknown key wingspan_mm`}},
		{args: `--subject strike.toml --lag-ms 52 --spread-ms 0.8`, want: 2,
			err: []string{`strike.csv: ends 30 ms after the trip, but the flash may fire as late as`}},
		{args: `--subject strike.toml --lag-ms 12 --spread-ms 0.8 --moment 500`, want: 1,
			err: []string{`the subject does not get as far as 500 mm past the trip point`}},
		{args: `--subject strike.toml --lag-ms 12 --spread-ms 0.8 --moment 60`, want: 0,
			out: []string{`Or an added delay of`}},
		{args: `--preset blowfly $bee`, want: 2, err: []string{`--preset: and --subject both say what the subject is`}},
		{args: `--lag-ms 52 --spread-ms 0.8`, want: 2,
			err: []string{`--subject: is not stated`, `--presets lists them`}},
		{args: `--height-mm 4 --lag-ms 52 --spread-ms 0.8`, want: 2, err: []string{`length_mm is not stated`}},
		{args: `--preset frogghopper --lag-ms 50 --spread-ms 1`, want: 2,
			err: []string{`frogghopper is not known`, `hint: the nearest is froghopper`}},
		{args: `$bee --probability 1.5`, want: 2,
			err: []string{`--probability: is 1.5; it must lie between 0.5 and 0.999`}},
		{args: `$bee --draws 10`, want: 2, err: []string{`--draws: is 10; it must lie between`}},
		{args: `$bee --orientation upside`, want: 2,
			err: []string{`--orientation: is "upside"; it is landscape or portrait`}},
		{args: `$bee --colour brown`, want: 2, err: []string{`--colour: "brown" is not a colour`}},
		{args: `$bee --colour-from bee.toml`, want: 2, err: []string{`bee.toml: is no picture to take colours from`}},
		{args: `$bee --figure set.gif`, want: 2, err: []string{`--figure: set.gif is neither .svg nor .png`}},
		{args: `$bee --figure nowhere/set.svg`, want: 2,
			err: []string{`nowhere/set.svg: could not be written`, `check that the folder is there`}},
		{args: `--write bee2.toml --lag-ms 52 --spread-ms 0.8`, want: 2,
			err: []string{`--write: writes a preset to edit`}},
		{args: `bee.toml`, want: 2, err: []string{`unknown command "bee.toml"`}},
	}
}

// Every bad input has its message and its exit status, prints nothing on standard output when it
// fails, and leaves no file behind. The program is run in this process: there are many.
func TestWrongPlans(t *testing.T) {
	archive, err := txtar.ParseFile(filepath.Join("testdata", "plan_wrong.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	t.Setenv("LEADMARK_RIGS", "rigs")
	for _, f := range archive.Files {
		if err := os.MkdirAll(filepath.Dir(f.Name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(f.Name, f.Data, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range wrongPlans() {
		t.Run(c.args, func(t *testing.T) { c.check(t) })
	}
	if all, _ := filepath.Glob("*"); len(all) != 6 { // five files and the rigs
		t.Errorf("left behind: %v", all)
	}
}

func (c wrongPlan) check(t *testing.T) {
	args := strings.Fields(strings.Replace(c.args, "$bee", "--subject bee.toml --lag-ms 52 --spread-ms 0.8", 1))
	if c.want == statusResult {
		args = append(args, "--draws", "10000")
	}
	var stdout, stderr bytes.Buffer
	if got := status(append([]string{"plan"}, args...), &stdout, &stderr); got != c.want {
		t.Errorf("exit status %d, want %d\n%s", got, c.want, stderr.String())
	}
	if c.want != statusResult && stdout.Len() > 0 {
		t.Errorf("printed on standard output:\n%s", stdout.String())
	}
	// Lines are wrapped for people; blanks are one here.
	plain := func(b *bytes.Buffer) string { return strings.Join(strings.Fields(b.String()), " ") }
	for text, patterns := range map[string][]string{plain(&stdout): c.out, plain(&stderr): c.err} {
		for _, p := range patterns {
			if !regexp.MustCompile(p).MatchString(text) {
				t.Errorf("%q is missing in\n%s", p, text)
			}
		}
	}
	for _, p := range c.not {
		if regexp.MustCompile(p).MatchString(stdout.String()) {
			t.Errorf("%q is in\n%s", p, stdout.String())
		}
	}
}
