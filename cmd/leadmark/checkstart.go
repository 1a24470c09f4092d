package main

import (
	"path/filepath"
	"slices"

	"leadmark/calib/input"
	"leadmark/calib/shoot"
)

// startShoot writes a shoot.toml to fill in.
func (a *app) startShoot(dir string, o checkOptions) error {
	for _, other := range []string{"json", "xmp", "learn", "force", "cutouts", "out"} {
		if o.given(other) {
			return &input.Error{File: "--start", What: "writes a file to fill in and does nothing else",
				Hint: "leave out --" + other}
		}
	}
	k := shoot.Known{Rig: o.rig, Subject: o.subject}
	if k.Rig == "" {
		k.Rig = a.onlyRig()
	}
	if k.Subject == "" {
		k.Subject = onlySubject(dir)
	} else if near, err := seenFrom(dir, k.Subject); err == nil {
		k.Subject = near
	}
	bare := holdsNothing(dir)
	var toFill []string
	err := a.written.file(filepath.Join(dir, shoot.FileName), func() (err error) {
		toFill, err = shoot.Start(dir, k)
		return err
	})
	if err != nil {
		return err
	}
	w := &printer{w: a.stdout}
	w.linef("wrote %s", filepath.Join(dir, shoot.FileName))
	if o.rig == "" && k.Rig != "" {
		w.linef("rig: %s, the only one there is", k.Rig)
	}
	w.linef("\nto fill in:")
	for _, what := range toFill {
		w.linef("  %s", what)
	}
	if bare {
		w.linef("\nno frames are there yet: copy those of one shoot into %s", dir)
	}
	w.linef("\nthen: leadmark check %s", dir)
	return w.err
}

// onlyRig is the name of the rig where there is but one.
func (a *app) onlyRig() string {
	store, err := a.store()
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
