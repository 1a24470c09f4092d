package main

import (
	"context"
	"fmt"
	"image"
	"io"
	"path/filepath"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/plan/subject"
	"leadmark/cmd/leadmark/report/planprint"
	"leadmark/vision/frame"
)

// tellPlanned prints a plan as a page of plain answers.
func (a *app) tellPlanned(p plan.Plan, figure string) error {
	out := &printer{w: a.stdout}
	out.linef("%s", hanging("", planprint.Head(p).String()))
	if s := planprint.Settings(p); s != "" {
		out.linef("%s", hanging("", s))
	}
	for _, s := range planprint.Sections(p) {
		out.linef("\n%s", s.Title)
		out.linef("%s", indented(answerTable(s.Lines)))
	}
	if len(p.Warnings) > 0 {
		out.linef("\nWarnings")
		for _, w := range p.Warnings {
			out.linef("%s", hanging("  ", w.Code+": "+w.Text))
		}
	}
	out.linef("\nCautions")
	for _, c := range p.Cautions {
		out.linef("%s", hanging("  ", c))
	}
	if figure != "" {
		out.linef("\nThe drawn set: %s", figure)
	}
	return out.err
}

func indented(text string) string { return "  " + strings.ReplaceAll(text, "\n", "\n  ") }

// tellPresets lists the presets with their speeds and where those come from.
func (a *app) tellPresets() error {
	t := plainTable()
	t.AppendHeader(table.Row{"preset", "moves", "speed", "where that comes from"})
	for _, name := range subject.Presets() {
		s, err := subject.LoadPreset(name, input.Overrides{})
		if err != nil {
			return err
		}
		t.AppendRow(table.Row{name, s.Motion, s.Value("speed_mps"), s.Sources["speed_mps"]})
	}
	p := &printer{w: a.stdout}
	p.linef("%s", t.Render())
	p.linef("\n%s", hanging("", "They are starting points: write one to a file with --preset NAME --write "+
		"FILE, and change what you know better. Sizes and scatter have no source and are there to be measured."))
	return p.err
}

// figureKind checks the name of a figure's file.
func figureKind(path string) error {
	switch ext := strings.ToLower(filepath.Ext(path)); {
	case path == "", ext == ".svg", ext == ".png":
		return nil
	}
	return &input.Error{File: "--figure", What: fmt.Sprintf("%s is neither .svg nor .png", path),
		Hint: "name a file such as set.svg"}
}

// Bounds of a picture from which colours are taken: it is shrunk to about so many pixels on its
// long side.
const colourSide = 96

// subjectColours are the subject's colours: the one given, or those of the middle of a picture.
func subjectColours(ctx context.Context, o planOptions,
	picture func(context.Context, frame.Frame, int) (image.Image, error)) ([]plan.RGB, error) {
	switch {
	case o.colour != "" && o.colourFrom != "":
		return nil, &input.Error{File: "--colour", What: "and --colour-from both say what colour the subject has",
			Hint: "keep one"}
	case o.colour != "":
		c, err := plan.ParseColour(o.colour)
		return []plan.RGB{c}, err
	case o.colourFrom == "":
		return nil, nil
	}
	f, refused := frame.Open(o.colourFrom)
	if refused != nil {
		return nil, &input.Error{File: o.colourFrom, What: "is no picture to take colours from: " + refused.Text}
	}
	img, err := picture(ctx, f, colourSide)
	if err != nil {
		return nil, &input.Error{File: o.colourFrom, What: "cannot be looked at", Err: err}
	}
	return middleColours(img), nil
}

// middleColours are the colours of the middle half of a picture each way.
func middleColours(img image.Image) []plan.RGB {
	b := img.Bounds()
	middle := image.Rect(b.Min.X+b.Dx()/4, b.Min.Y+b.Dy()/4, b.Max.X-b.Dx()/4, b.Max.Y-b.Dy()/4)
	var all []plan.RGB
	for y := middle.Min.Y; y < middle.Max.Y; y++ {
		for x := middle.Min.X; x < middle.Max.X; x++ {
			r, g, bl, _ := img.At(x, y).RGBA()
			all = append(all, plan.RGB{uint8(r >> 8), uint8(g >> 8), uint8(bl >> 8)})
		}
	}
	return all
}

// writeFigure draws the set, whole or not at all, and only over an earlier drawing of ours.
func (a *app) writeFigure(ctx context.Context, path string, p plan.Plan, dark bool) error {
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
	return a.writePrint(ctx, path, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}
