package planning

import (
	"io"

	"github.com/jedib0t/go-pretty/v6/table"

	"leadmark/calib/input"
	"leadmark/calib/plan/subject"
	"leadmark/calib/store"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/terminal"
)

// printPresets lists the presets with their speeds and where those come from.
func printPresets(env *command.Env) error {
	t := terminal.Table()
	t.AppendHeader(table.Row{"preset", "moves", "speed", "where that comes from"})
	for _, name := range subject.Presets() {
		s, err := subject.LoadPreset(name, input.Overrides{})
		if err != nil {
			return err
		}
		t.AppendRow(table.Row{name, s.Motion, s.Value("speed_mps"), s.Sources["speed_mps"]})
	}
	p := terminal.NewPrinter(env.Stdout)
	p.Linef("%s", t.Render())
	p.Linef("\n%s", terminal.Hanging("", "They are starting points: write one to a file with --preset NAME --write "+
		"FILE, and change what you know better. Sizes and scatter have no source and are there to be measured."))
	return p.Err()
}

// writePreset writes a preset's file to edit, and never over another.
func writePreset(env *command.Env, name, path string) error {
	text, err := subject.PresetText(name)
	if err != nil {
		return err
	}
	made := false
	err = env.Written.File(path, func() (err error) {
		made, err = store.Create(store.System(), path, text)
		return err
	})
	switch {
	case err != nil:
		return err
	case !made:
		return &input.Error{File: path, What: "is there already; nothing was written", Hint: "name another file"}
	}
	_, err = io.WriteString(env.Stdout, "wrote "+path+": change what you know better, then: leadmark plan "+
		"--rig NAME --subject "+path+"\n")
	return err
}
