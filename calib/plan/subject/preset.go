package subject

import (
	"embed"
	"path"
	"strings"

	"leadmark/calib/input"
)

//go:embed presets/*.toml
var presetFiles embed.FS

// Presets names the groups of animals there is a subject.toml to begin with for, in order. Their
// values are published where [sources] says so, with the source; the others are there to be
// measured.
func Presets() []string {
	entries, err := presetFiles.ReadDir("presets")
	if err != nil {
		return nil // they are part of the program
	}
	var names []string
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), ".toml"))
	}
	return names
}

// PresetText is the subject.toml of a preset, to write to a file and edit.
func PresetText(name string) ([]byte, error) {
	text, err := presetFiles.ReadFile(path.Join("presets", name+".toml"))
	if err != nil || name != path.Base(name) {
		hint := "there are: " + strings.Join(Presets(), ", ")
		if near := input.Nearest(name, Presets()); near != "" {
			hint = "the nearest is " + near + "; " + hint
		}
		return nil, &input.Error{File: "--preset", What: name + " is not known", Hint: hint}
	}
	return text, nil
}

// LoadPreset reads a preset with the flags that stand in for its keys.
func LoadPreset(name string, o input.Overrides) (Subject, error) {
	text, err := PresetText(name)
	if err != nil {
		return Subject{}, err
	}
	return finish(Parse("the preset "+name, text, o))
}
