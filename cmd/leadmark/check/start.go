package check

import (
	"path/filepath"
	"slices"

	"leadmark/calib/input"
	"leadmark/calib/shoot"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/terminal"
)

// startShoot writes a shoot.toml to fill in.
func startShoot(env *command.Env, dir string, o options) error {
	for _, other := range []string{"json", "xmp", "learn", "force", "cutouts", "out"} {
		if o.Given(other) {
			return &input.Error{File: "--start", What: "writes a file to fill in and does nothing else",
				Hint: "leave out --" + other}
		}
	}
	k := shoot.Known{Rig: o.Rig, Subject: o.Subject}
	if k.Rig == "" {
		k.Rig = onlyRig(env)
	}
	if k.Subject == "" {
		k.Subject = onlySubject(dir)
	} else if near, err := seenFrom(dir, k.Subject); err == nil {
		k.Subject = near
	}
	bare := command.HoldsNothing(dir)
	var toFill []string
	err := env.Written.File(filepath.Join(dir, shoot.FileName), func() (err error) {
		toFill, err = shoot.Start(dir, k)
		return err
	})
	if err != nil {
		return err
	}
	w := terminal.NewPrinter(env.Stdout)
	w.Linef("wrote %s", filepath.Join(dir, shoot.FileName))
	if o.Rig == "" && k.Rig != "" {
		w.Linef("rig: %s, the only one there is", k.Rig)
	}
	w.Linef("\nto fill in:")
	for _, what := range toFill {
		w.Linef("  %s", what)
	}
	if bare {
		w.Linef("\nno frames are there yet: copy those of one shoot into %s", dir)
	}
	w.Linef("\nthen: leadmark check %s", dir)
	return w.Err()
}

// onlyRig is the name of the rig where there is but one.
func onlyRig(env *command.Env) string {
	store, err := env.Store()
	if err != nil {
		return ""
	}
	names, err := store.List()
	if err != nil || len(names) != 1 {
		return ""
	}
	return names[0]
}

// onlySubject is the subject's file where the shoot's folder holds one that can be that.
func onlySubject(dir string) string {
	files, _ := filepath.Glob(filepath.Join(dir, "*.toml")) // a pattern that is none finds nothing
	files = slices.DeleteFunc(files, func(f string) bool { return filepath.Base(f) == shoot.FileName })
	if len(files) != 1 {
		return ""
	}
	return filepath.Base(files[0])
}

// seenFrom is a path as it is written in a file that lies in a folder.
func seenFrom(dir, path string) (string, error) {
	from, err := filepath.Abs(dir)
	if err != nil {
		return "", err
	}
	to, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	near, err := filepath.Rel(from, to)
	return filepath.ToSlash(near), err
}
