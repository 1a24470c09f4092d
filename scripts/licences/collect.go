package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// part is something that is built into the program: this project, Go itself, or a module.
type part struct {
	Name, Version string
	Texts         []string // its licence files, the first of them the licence
	Kind          string   // SPDX expression
}

// label is the part's name with its version, where it has one.
func (p part) label() string { return strings.TrimSpace(p.Name + " " + p.Version) }

// collect finds the licences of all parts: first this project's, then Go's, then the modules' by name.
func collect(root string) ([]part, error) {
	goroot, err := goOutput(root, "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	modules, err := goOutput(root, "list", "-deps", "-f",
		"{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Version}}\t{{.Dir}}{{end}}{{end}}", "./cmd/leadmark")
	if err != nil {
		return nil, err
	}
	lines := strings.Split(strings.TrimSpace(modules), "\n")
	slices.Sort(lines)
	lines = append([]string{"leadmark\t\t" + root, "Go\t\t" + strings.TrimSpace(goroot)}, slices.Compact(lines)...)
	var all []part
	for _, line := range lines {
		field := strings.Split(line, "\t")
		if len(field) != 3 {
			continue // packages of the standard library have no module
		}
		p, err := look(field[0], field[1], field[2])
		if err != nil {
			return nil, err
		}
		all = append(all, p)
	}
	if len(all) < 10 {
		return nil, fmt.Errorf("go list names only %d modules", len(all))
	}
	return all, nil
}

// look reads the licence files of one part.
func look(name, version, dir string) (part, error) {
	p := part{Name: name, Version: version}
	var paths []string
	for _, pattern := range []string{"LICEN[CS]E*", "COPYING*", "NOTICE*", "PATENTS*", "THIRD_PARTY_LICENSES/*",
		"font/gofont/ttfs/README"} {
		found, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			return p, err
		}
		paths = append(paths, found...)
	}
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			return p, err
		}
		p.Texts = append(p.Texts, tidy(text))
	}
	if len(p.Texts) == 0 {
		return p, fmt.Errorf("%s has no licence file in %s", name, dir)
	}
	var err error
	p.Kind, err = kind(p.Texts[0])
	if err != nil {
		return p, fmt.Errorf("%s: %w", name, err)
	}
	return p, nil
}

// tidy ends lines alike and takes blanks off their ends, so that equal licences are equal texts.
func tidy(text []byte) string {
	text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	text = regexp.MustCompile(`[ \t]+\n`).ReplaceAll(text, []byte("\n"))
	return strings.Trim(string(text), "\n") + "\n"
}

// kind tells a licence by sentences that only it has.
func kind(text string) (string, error) {
	flat := strings.ReplaceAll(strings.Join(strings.Fields(text), " "), "Apache License, ", "Apache License ")
	var kinds []string
	for _, k := range []struct{ name, sentence string }{
		{"MIT", "Permission is hereby granted, free of charge, to any person obtaining a copy"},
		{"BSD-3-Clause", "may be used to endorse or promote products"},
		{"BSD-2-Clause", "Redistributions in binary form must reproduce the above copyright notice"},
		{"Apache-2.0", "Apache License Version 2.0"},
	} {
		if strings.Contains(flat, k.sentence) && !(k.name == "BSD-2-Clause" && slices.Contains(kinds, "BSD-3-Clause")) {
			kinds = append(kinds, k.name)
		}
	}
	if len(kinds) == 0 {
		return "", errors.New("its licence is none that is known here: read it, and add it to kind if it may be used")
	}
	return strings.Join(kinds, " and "), nil
}

func goOutput(dir string, args ...string) (string, error) {
	var stderr bytes.Buffer
	cmd := exec.Command("go", args...)
	cmd.Dir, cmd.Stderr = dir, &stderr
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("go %s: %w\n%s", args[0], err, stderr.String())
	}
	return string(out), nil
}
