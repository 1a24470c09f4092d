package calibrate

import (
	"fmt"
	"path/filepath"

	"leadmark/calib/input"
	"leadmark/calib/read/cache"
	"leadmark/calib/record"
	"leadmark/calib/rig"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/output"
)

// readied is what a run needs besides its frames, found before the long work.
type readied struct {
	store   rig.Store
	profile rig.Profile
	out     output.Folder
	cache   *cache.Cache // to be closed; nil where there is none
}

func makeReady(env *command.Env, run runfile.Run, dir string, o options) (readied, error) {
	var r readied
	var err error
	if r.store, r.profile, err = checkRig(env, run.Rig, o); err != nil {
		return r, err
	}
	env.Written.Around(o.out)
	if r.out, err = output.Choose(o.out, dir, "-report", isReport); err != nil {
		return r, err
	}
	if o.readings == "" { // else no pictures are looked at
		r.cache = cache.Open(run.Dir, env.Program())
	}
	return r, nil
}

// prepareRun adds to a run what its folder does not say.
func prepareRun(profile rig.Profile, goal runfile.Goal) func(*runfile.Run) {
	return func(r *runfile.Run) { r.Limits, r.Goal = profile.Limits.OfRun(), goal }
}

// checkRig finds before the long work that a profile is missing or cannot be written, and loads it.
// A profile that is only named in run.toml need not be there.
func checkRig(env *command.Env, name string, o options) (rig.Store, rig.Profile, error) {
	store, err := env.Store()
	if err != nil {
		return store, rig.Profile{}, err
	}
	switch {
	case o.accept && name == "":
		return store, rig.Profile{}, &input.Error{File: "--accept",
			What: "needs to know which rig was calibrated", Hint: "add --rig NAME, or rig = \"NAME\" to run.toml"}
	case o.accept:
		if err := store.Ready(name); err != nil {
			return store, rig.Profile{}, err
		}
	case !o.rigGiven && !store.Has(name):
		return store, rig.Profile{}, nil
	}
	profile, err := store.Load(name)
	return store, profile, err
}

// closeCache ends what is remembered, and says what kept it from being so.
func closeCache(env *command.Env, seen *cache.Cache) {
	seen.Close()
	if note := seen.Note(); note != "" {
		fmt.Fprintln(env.Stderr, "note:", note)
	}
}

// isReport reports whether a folder holds a result of this program.
func isReport(dir string) bool {
	text, err := input.ReadBounded(filepath.Join(dir, "result.json"), 256<<20)
	if err != nil {
		return false
	}
	_, err = record.Decode(text)
	return err == nil
}
