package calibrate

import (
	"context"
	"path/filepath"

	"leadmark/calib"
	"leadmark/calib/read"
	"leadmark/calib/read/cache"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/output"
	"leadmark/cmd/leadmark/report"
	"leadmark/cmd/leadmark/terminal"
)

// calibrate is the whole path: what can be wrong is found before the long work, and the rig's
// profile is touched last of all.
func calibrate(ctx context.Context, env *command.Env, dir string, o options) error {
	run, err := runfile.Load(dir, o.overrides)
	if err != nil {
		return err
	}
	ready, err := makeReady(env, run, dir, o)
	if err != nil {
		return err
	}
	prepareRun(ready.profile, o.target())(&run)
	result, err := estimate(ctx, env, run, ready.cache, o)
	if err == nil {
		err = writeReport(ctx, env, ready.out, result, ready.cache, o)
	}
	closeCache(env, ready.cache)
	if err != nil {
		return err
	}
	done := finished{result: result, page: filepath.Join(ready.out.Path, "report.html")}
	if !o.accept {
		return printResult(env, done, o.json)
	}
	return accept(ctx, env, run.Rig, ready, done, o)
}

// estimate reads the frames, or takes readings made by hand, and estimates.
func estimate(ctx context.Context, env *command.Env, run runfile.Run, seen *cache.Cache,
	o options) (calib.Result, error) {
	if o.readings != "" {
		readings, err := runfile.LoadReadings(o.readings, run)
		if err != nil {
			return calib.Result{}, err
		}
		return calib.FromReadings(run, readings)
	}
	folder, err := command.ListFrames(ctx, run.Dir)
	if err != nil {
		return calib.Result{}, err
	}
	collectEarly(folder.Frames, o.workers)
	p := terminal.NewProgress(env.Stderr, "reading the frames")
	defer p.End()
	return calib.Calibrate(ctx, run, folder, read.Options{Look: seen.Look(env.Look), Cache: seen,
		Shift: env.Shift, Progress: p.Step, Workers: o.workers})
}

func writeReport(ctx context.Context, env *command.Env, out output.Folder, r calib.Result, seen *cache.Cache,
	o options) error {
	p := terminal.NewProgress(env.Stderr, "drawing the report")
	defer p.End()
	return env.Written.Fill(ctx, out, "the report", func(dir string) error {
		options := report.Options{Progress: p.Step, Made: env.Now(), Version: env.Version, Program: env.Program(),
			Workers: o.workers}
		if o.readings == "" {
			options.Picture = seen.Clips
		}
		return report.Write(ctx, dir, r, options)
	})
}
