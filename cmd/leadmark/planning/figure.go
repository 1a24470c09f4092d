package planning

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/report/planprint"
)

// figureKind checks the name of a figure's file.
func figureKind(path string) error {
	switch ext := strings.ToLower(filepath.Ext(path)); {
	case path == "", ext == ".svg", ext == ".png":
		return nil
	}
	return &input.Error{File: "--figure", What: fmt.Sprintf("%s is neither .svg nor .png", path),
		Hint: "name a file such as set.svg"}
}

// writeFigure draws the set, whole or not at all, and only over an earlier drawing of ours.
func writeFigure(ctx context.Context, env *command.Env, path string, p plan.Plan, dark bool) error {
	var data []byte
	var err error
	if strings.EqualFold(filepath.Ext(path), ".png") {
		data, err = planprint.PNG(p, dark)
	} else {
		data, err = planprint.SVG(p)
	}
	if err != nil {
		return fmt.Errorf("drawing the set: %w", err)
	}
	return env.Written.Print(ctx, path, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}
