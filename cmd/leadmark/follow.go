package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"leadmark/calib"
	"leadmark/calib/follow"
	"leadmark/calib/input"
	"leadmark/calib/read"
	"leadmark/calib/rig"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/vision/ruler"
)

// follow reads a run while it is shot and prints what comes, until it is told to stop; then it
// writes the report of what there is, as calibrate does.
func (a *app) follow(ctx context.Context, dir string, o calibrateOptions) error {
	coming := o.overrides
	coming.Coming = true
	run, err := runfile.Load(dir, coming)
	if err != nil {
		return err
	}
	ready, err := a.makeReady(run, dir, o)
	if err != nil {
		return err
	}
	memory := ready.memory
	a.finishes.Store(true)
	told := &followed{a: a, p: &printer{w: a.stdout}}
	told.p.linef("Following %s. Shoot, or copy frames into it; Ctrl-C ends and writes the report.", dir)
	err = a.following(ctx, dir, follow.Options{
		Options:   read.Options{Look: memory.Look(a.look), Cache: memory, Shift: a.shift, Workers: o.workers},
		Overrides: o.overrides, Prepare: prepareRun(ready.profile, o.target()), Tell: told.event,
	})
	if err == nil && told.last != nil {
		// what was shot is not lost because the watching ended
		rest, stop := context.WithCancel(context.WithoutCancel(ctx))
		defer stop()
		defer context.AfterFunc(a.lastStop, stop)()
		err = a.writeReport(rest, ready.out, *told.last, memory, o)
	}
	a.closeMemory(memory)
	if err := errors.Join(err, told.p.err); err != nil {
		return err
	}
	if told.last == nil {
		return errors.Join(&input.NoResult{What: "nothing could be told so far"}, told.err)
	}
	return a.tell(finished{result: *told.last, page: filepath.Join(ready.out.path, "report.html")}, false)
}

// prepareRun adds to a run what its folder does not say.
func prepareRun(profile rig.Profile, goal runfile.Goal) func(*runfile.Run) {
	return func(r *runfile.Run) { r.Limits, r.Goal = profile.Limits.OfRun(), goal }
}

// followed prints a run that is followed.
type followed struct {
	a    *app
	p    *printer
	last *calib.Result // that told something
	err  error         // why the last one does not
	said string
}

func (t *followed) event(e follow.Event) {
	switch {
	case e.Seen != nil:
		t.seen(*e.Seen)
	case len(e.Gone) > 0:
		t.p.linef("%s: taken away", strings.Join(e.Gone, ", "))
	case e.Result != nil && e.Err != nil:
		t.err = e.Err
		what, hint := summary.Remedy(e.Err)
		t.say("not yet: " + strings.TrimSpace(what+"\n"+hint))
	case e.Result != nil:
		t.last, t.err = e.Result, nil
		t.say(summary.Head(*e.Result).String() + "\nNext: " + summary.Next(*e.Result).Text)
	case len(e.Waiting) > 0:
		t.p.linef("%s: being written", strings.Join(e.Waiting, ", "))
	}
}

func (t *followed) seen(f calib.FrameResult) {
	if f.Status == ruler.StatusRead {
		t.p.linef("%s: read, %d graduations", f.Name, f.Reading.Graduations.Len())
		return
	}
	line := fmt.Sprintf("%s: %s, %s", f.Name, strings.ReplaceAll(string(f.Status), "_", " "), f.Reason.Text)
	if fix := summary.FrameRemedy(f.Reason.Code); fix != "" {
		line = strings.TrimRight(line, ".") + map[bool]string{true: " ",
			false: ". "}[strings.HasSuffix(line, "?")] + fix
	}
	t.p.linef("%s", hanging("", line))
}

// say prints the answer where it is another than before.
func (t *followed) say(text string) {
	if text == t.said {
		return
	}
	t.said = text
	for _, l := range strings.Split(text, "\n") {
		t.p.linef("%s", hanging("  ", l))
	}
}
