package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/spf13/cobra"

	"leadmark/calib/input"
	"leadmark/calib/record"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/terminal"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
)

// readOptions are the flags of read.
type readOptions struct {
	json       bool
	graduation float64 // mm
	settings   map[string]string
	out        string // folder for annotated pictures; "" for none
}

func readCommand(env *command.Env) *cobra.Command {
	var o readOptions
	c := &cobra.Command{
		Use:   "read PICTURE...",
		Short: "Say what single pictures of a ruler show",
		Long: "Reads the ruler in each picture: its graduations, its scale and its front end. A folder stands\n" +
			"for the pictures in it. The exit status is 1 when not one picture could be read.",
		Example: "  leadmark demo night1\n  leadmark read night1/IMG_0002.JPG --graduation-mm 1",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return errors.New("give at least one picture")
			}
			return nil
		},
	}
	c.Flags().BoolVar(&o.json, "json", false, "print one JSON line a picture")
	c.Flags().StringVar(&o.out, "out", "", "folder for the pictures with what was found drawn on them")
	c.Flags().Float64Var(&o.graduation, "graduation-mm", 0,
		"finest graduation of the ruler, mm (1/16 inch = 1.5875); else as found")
	c.RunE = env.Begin(func(c *cobra.Command, args []string) error {
		if c.Flags().Changed("graduation-mm") && !(o.graduation > 0 && o.graduation <= 100) {
			return &input.Error{File: "--graduation-mm",
				What: fmt.Sprintf("is %v; it must be above 0 and at most 100", o.graduation),
				Hint: "give the finest graduation in millimetres"}
		}
		o.settings = command.Settings(c)
		return readPictures(c.Context(), env, args, o)
	})
	return c
}

// readPictures looks at each picture by itself and prints as it goes.
func readPictures(ctx context.Context, env *command.Env, args []string, o readOptions) error {
	paths, err := picturePaths(ctx, args)
	if err != nil {
		return err
	}
	drawn, err := newDrawings(&env.Written, o.out)
	if err != nil {
		return err
	}
	bar := terminal.NewProgress(env.Stderr, "reading the pictures")
	defer bar.End()
	read := 0
	var rows []table.Row
	for i, path := range paths {
		f, r, clips, err := readOne(ctx, env, path, o)
		if err != nil {
			return err
		}
		if err := drawn.draw(f, r, clips.Large); err != nil {
			return err
		}
		if r.Status == ruler.StatusRead {
			read++
		}
		if o.json {
			if err := terminal.Line(env.Stdout, record.NewPicture(path, f, r, o.settings)); err != nil {
				return err
			}
		}
		rows = append(rows, pictureRow(path, r))
		bar.Step(i+1, len(paths), path)
	}
	bar.End()
	if err := drawn.settle(); err != nil {
		return err
	}
	if err := printPictures(env, rows, drawn, o); err != nil {
		return err
	}
	if read == 0 {
		return &input.NoResult{What: fmt.Sprintf("none of %d pictures could be read", len(paths)),
			Hint: "the reason stands beside each; leadmark read --help"}
	}
	return nil
}

// picturePaths puts the pictures of a folder in the place of its name, and finds missing files
// before any is read.
func picturePaths(ctx context.Context, args []string) ([]string, error) {
	var paths []string
	for _, arg := range args {
		info, err := os.Stat(arg)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil, &input.Error{File: arg, What: "there is no such picture"}
		case err == nil && info.IsDir():
			folder, err := command.ListFrames(ctx, arg)
			if err != nil {
				return nil, err
			}
			for _, f := range folder.Frames {
				paths = append(paths, filepath.Join(arg, f.Name))
			}
			for _, f := range folder.Refused {
				paths = append(paths, filepath.Join(arg, f.Name))
			}
		default:
			paths = append(paths, arg)
		}
	}
	return paths, nil
}

// readOne reads one picture; only the end of ctx or a failure of the program is an error.
func readOne(ctx context.Context, env *command.Env, path string,
	o readOptions) (frame.Frame, ruler.Reading, ruler.Clips, error) {
	var s ruler.Sighting
	var err error
	f, refusal := frame.Open(path)
	if refusal == nil {
		s, err = env.Look(ctx, f, ruler.Hint{})
	}
	if refusal != nil || errors.As(err, &refusal) {
		return f, ruler.Reading{Status: ruler.StatusRefused,
			Reason: refusal.Note}, ruler.Clips{}, ctx.Err()
	}
	if err != nil {
		return f, ruler.Reading{}, ruler.Clips{}, fmt.Errorf("reading %s: %w", path, err)
	}
	return f, reading.Interpret(s, ruler.Spec{Graduation: o.graduation * 1e-3}), s.Clips, nil
}

func printPictures(env *command.Env, rows []table.Row, drawn *drawings, o readOptions) error {
	if o.json {
		return nil
	}
	t := terminal.Table()
	t.AppendHeader(table.Row{"picture", "status", "px/mm", "front end, px", "u, px", "what was found"})
	t.AppendRows(rows)
	p := terminal.NewPrinter(env.Stdout)
	p.Linef("%s", t.Render())
	if drawn != nil {
		p.Linef("\nWith what was found drawn on them: %d pictures in %s", drawn.written, drawn.dir)
	}
	return p.Err()
}
