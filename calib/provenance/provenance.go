// Package provenance tells what a document was made by and from, so that a number found years later
// can be made again: the program's version and commit, a digest of all that went in, and what the
// command line said in the place of files. Nothing in it tells the time or the machine, so the same
// inputs give the same bytes.
package provenance

import "runtime/debug"

// What is released: the newest entry of CHANGELOG.md, which a test compares.
const (
	Release  = "0.9.1"
	Released = "2026-11-28"
)

// Generator is the program that made a document.
type Generator struct {
	Program string `json:"program"`
	Version string `json:"version"`
	Commit  string `json:"commit,omitempty"` // absent where the build does not tell
}

// Made is what a document was made by and from.
type Made struct {
	Generator    Generator         `json:"generator"`
	InputsSHA256 string            `json:"inputs_sha256"`      // of everything that went in
	Settings     map[string]string `json:"settings,omitempty"` // of the command line, by key
}

// Of says that this program made something of inputs with that digest.
func Of(inputsSHA256 string, settings map[string]string) Made {
	return Made{Generator: This(), InputsSHA256: inputsSHA256, Settings: settings}
}

// This is the program that is running.
func This() Generator {
	g := Generator{Program: "leadmark", Version: Release}
	if info, ok := debug.ReadBuildInfo(); ok {
		g.Commit = commit(info.Settings)
	}
	return g
}

// String is the version and the commit, as people are told them.
func (g Generator) String() string {
	if g.Commit == "" {
		return g.Version
	}
	return g.Version + " (commit " + g.Commit + ")"
}

// commit is what was built from; work that was not committed is told as changed.
func commit(settings []debug.BuildSetting) string {
	revision, changed := "", ""
	for _, s := range settings {
		switch {
		case s.Key == "vcs.revision" && len(s.Value) >= 12:
			revision = s.Value[:12]
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = ", changed"
		}
	}
	if revision == "" {
		return ""
	}
	return revision + changed
}
