package main

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"leadmark/calib/store/storetest"
)

// writers are all commands that write: those attacked, and those whose files are of one kind with
// theirs.
func writers() []attack {
	const lag = " --lag-ms 38.4 --spread-ms 0.7"
	return append(attacks(),
		attack{name: "calibrate", args: "calibrate $W/night --readings $W/readings.csv"},
		attack{name: "calibrate pictures", args: "calibrate $W/drops --accept", drops: true, costly: true},
		attack{name: "plan --figure", args: "plan --preset mason-bee --figure $W/bee.png --draws 20000" + lag},
		attack{name: "check", args: "check $W/bees" + lag, costly: true},
		attack{name: "read --out", args: "read $W/drops --out $W/drawn", drops: true},
		attack{name: "ruler, all of it", args: "ruler --pdf $W/r.pdf --svg $W/r.svg --slates $W/s.pdf --drop-mm 100,200 " +
			"--delay-ms 0,1,2,3,4,5"},
		attack{name: "demo", args: "demo $W/demo"},
		attack{name: "demo --shoot", args: "demo $W/demo2 --shoot", costly: true},
		attack{name: "manpages", args: "manpages $W/man1"})
}

// TestPowerCuts has each command that writes run once, and cuts the power after each of its calls of
// the system that change files, and after the last one: whatever a disk may have got by then, every
// file is as it was or as the command makes it, none that was there is gone, and after the last
// call all that it makes is there. By default the commands that look at no pictures;
// LEADMARK_POWER=all for all.
func TestPowerCuts(t *testing.T) {
	storetest.NeedStrace(t)
	program := lookLeadmark(t)
	for _, a := range writers() {
		if a.costly && os.Getenv("LEADMARK_POWER") == "" {
			continue
		}
		t.Run(a.name, func(t *testing.T) {
			w := newWorld(t, a, program)
			w.again(t)
			p := powerCuts{t: t, before: texts(t, w.p.Dir), seen: map[string]bool{}}
			disk, err := storetest.NewPowerDisk(w.p.Dir)
			if err != nil {
				t.Fatal(err)
			}
			var states []storetest.Cut
			var calls []string
			w.p.Replay(t, disk, func(call string) {
				calls = append(calls, call)
				for _, c := range disk.Cuts() {
					c.What = call + ": " + c.What
					states = append(states, c)
				}
			})
			p.after = texts(t, w.p.Dir)
			for _, c := range states {
				p.judge(c)
			}
			for _, c := range disk.Cuts() {
				p.done(c)
			}
			t.Logf("%d calls, %d states of the disk", len(calls), len(states))
			if len(calls) == 0 || maps.Equal(p.before, p.after) {
				t.Error("the command changes nothing")
			}
		})
	}
}

// powerCuts holds what cuts leave against the files before and after.
type powerCuts struct {
	t             *testing.T
	before, after map[string]string
	seen          map[string]bool // what was said, once
}

// texts are the content of all files below a folder, by path.
func texts(t *testing.T, dir string) map[string]string {
	t.Helper()
	d, err := storetest.NewPowerDisk(dir)
	if err != nil {
		t.Fatal(err)
	}
	files := d.Cuts()[0].Files
	maps.DeleteFunc(files, func(path, _ string) bool { return remembered(path) })
	return files
}

// remembered says whether a file is of what is only remembered, or a part without its name yet: both
// may be lost or torn at any time.
func remembered(path string) bool {
	return slices.ContainsFunc(strings.Split(path, "/"), func(name string) bool {
		return strings.HasSuffix(name, ".seen") || strings.HasPrefix(name, ".") && strings.HasSuffix(name, ".part")
	})
}

func (p *powerCuts) judge(c storetest.Cut) {
	for path, text := range c.Files {
		if remembered(path) {
			continue
		}
		old, was := p.before[path]
		made, is := p.after[path]
		if !(was && text == old || is && text == made || tornLine(old, made, text)) {
			p.say(path, "neither old nor new", c)
		}
	}
	for path := range p.before {
		if _, there := c.Files[path]; !there {
			if _, is := p.after[path]; is {
				p.say(path, "gone", c)
			}
		}
	}
}

// tornLine says whether a log has all that it had and a part of the line that is added, which its
// readers set aside (calib/store, TestATornEnd).
func tornLine(old, made, text string) bool {
	return old != "" && strings.HasPrefix(made, old) && strings.HasPrefix(text, old) && strings.HasPrefix(made, text) &&
		strings.HasPrefix(made, "{")
}

// done is judge after the command has said that it is done.
func (p *powerCuts) done(c storetest.Cut) {
	p.judge(c)
	for path, text := range p.after {
		if c.Files[path] != text {
			p.say(path, "said to be done, and not there", c)
		}
	}
}

// say says each thing once.
func (p *powerCuts) say(path, what string, c storetest.Cut) {
	key := filepath.Dir(path) + filepath.Ext(path) + what
	if !p.seen[key] {
		p.seen[key] = true
		p.t.Errorf("%s: %s (and the like) after %s", path, what, c.What)
	}
}
