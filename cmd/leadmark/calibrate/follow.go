package calibrate

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
	"leadmark/calib/runfile"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/cmd/leadmark/terminal"
	"leadmark/vision/ruler"
)

// followRun reads a run while it is shot and prints what comes, until it is told to stop; then it
// writes the report of what there is, as calibrate does.
func followRun(ctx context.Context, env *command.Env, dir string, o options) error {
	coming := o.overrides
	coming.Coming = true
	run, err := runfile.Load(dir, coming)
	if err != nil {
		return err
	}
	ready, err := makeReady(env, run, dir, o)
	if err != nil {
		return err
	}
	seen := ready.cache
	env.Finishes.Store(true)
	told := &followed{p: terminal.NewPrinter(env.Stdout)}
	told.p.Linef("Following %s. Shoot, or copy frames into it; Ctrl-C ends and writes the report.", dir)
	err = env.Following(ctx, dir, follow.Options{
		Options:   read.Options{Look: seen.Look(env.Look), Cache: seen, Shift: env.Shift, Workers: o.workers},
		Overrides: o.overrides, Prepare: prepareRun(ready.profile, o.target()), Tell: told.event,
	})
	if err == nil && told.last != nil {
		// what was shot is not lost because the watching ended
		rest, stop := context.WithCancel(context.WithoutCancel(ctx))
		defer stop()
		defer context.AfterFunc(env.LastStop, stop)()
		err = writeReport(rest, env, ready.out, *told.last, seen, o)
	}
	closeCache(env, seen)
	if err := errors.Join(err, told.p.Err()); err != nil {
		return err
	}
	if told.last == nil {
		return errors.Join(&input.NoResult{What: "nothing could be told so far"}, told.err)
	}
	return printResult(env, finished{result: *told.last, page: filepath.Join(ready.out.Path, "report.html")}, false)
}

// followed prints a run that is followed.
type followed struct {
	p    *terminal.Printer
	last *calib.Result // that told something
	err  error         // why the last one does not
	said string
}

func (t *followed) event(e follow.Event) {
	switch {
	case e.Seen != nil:
		t.seen(*e.Seen)
	case len(e.Gone) > 0:
		t.p.Linef("%s: taken away", strings.Join(e.Gone, ", "))
	case e.Result != nil && e.Err != nil:
		t.err = e.Err
		what, hint := summary.Remedy(e.Err)
		t.say("not yet: " + strings.TrimSpace(what+"\n"+hint))
	case e.Result != nil:
		t.last, t.err = e.Result, nil
		t.say(summary.Head(*e.Result).String() + "\nNext: " + summary.Next(*e.Result).Text)
	case len(e.Waiting) > 0:
		t.p.Linef("%s: being written", strings.Join(e.Waiting, ", "))
	}
}

func (t *followed) seen(f calib.FrameResult) {
	if f.Status == ruler.StatusRead {
		t.p.Linef("%s: read, %d graduations", f.Name, f.Reading.Graduations.Len())
		return
	}
	line := fmt.Sprintf("%s: %s, %s", f.Name, strings.ReplaceAll(string(f.Status), "_", " "), words.Sentence(f.Reason))
	if fix := summary.FrameRemedy(f.Reason.Code); fix != "" {
		line = strings.TrimRight(line, ".") + map[bool]string{true: " ",
			false: ". "}[strings.HasSuffix(line, "?")] + fix
	}
	t.p.Linef("%s", terminal.Hanging("", line))
}

// say prints the answer where it is another than before.
func (t *followed) say(text string) {
	if text == t.said {
		return
	}
	t.said = text
	for _, l := range strings.Split(text, "\n") {
		t.p.Linef("%s", terminal.Hanging("  ", l))
	}
}
