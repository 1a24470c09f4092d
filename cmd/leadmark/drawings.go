package main

import (
	"context"
	"image"

	"leadmark/frame"
)

// drawings are the pictures of read with what was found drawn on them.
type drawings struct{ dir string }

func newDrawings(dir string, _ func(context.Context, frame.Frame, int) (image.Image, error)) (*drawings, error) {
	return &drawings{dir}, nil
}

func (d *drawings) add(context.Context, picture) error { return nil }
