package planning

import (
	"context"
	"image"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/words"
	"leadmark/vision/frame"
)

// Bounds of a picture from which colours are taken: it is shrunk to about so many pixels on its
// long side.
const colourSide = 96

// subjectColours are the subject's colours: the one given, or those of the middle of a picture.
func subjectColours(ctx context.Context, o Options,
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
		return nil, &input.Error{File: o.colourFrom,
			What: "is no picture to take colours from: " + words.Sentence(refused.Note)}
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
