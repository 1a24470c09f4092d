package subject

import (
	"context"
	"fmt"
	"image"
	"slices"
	"sync"

	"leadmark/fit/parallel"
	"leadmark/vision/animal"
	"leadmark/vision/frame"
	"leadmark/vision/pixel"
)

const (
	setFrames    = 15 // of a run that the empty set is learned from
	fewestFrames = 5  // frames without which it cannot be told from the run
)

// Finder finds animals before one empty set.
type Finder struct {
	k       int // a pixel stands for k x k of the picture
	w, h    int // of the picture
	back    *pixel.Colour
	decoder *pixel.Decoder
	spare   sync.Pool // of differences, whose memory is used again
}

// Learn learns the empty set from a frame of it or, where there is none, from the run of frames: at
// each place the tone that most frames agree on. Fewer than five frames of one size without an
// empty one are an error.
func Learn(ctx context.Context, l pixel.Library, frames []frame.Frame, empty *frame.Frame) (*Finder, error) {
	m := &pixel.Decoder{Library: l}
	if empty != nil {
		c, size, err := reduced(m, *empty)
		if err != nil {
			return nil, fmt.Errorf("the frame of the empty set, %s: %w", empty.Name, err)
		}
		return newFinder(c, size, m), nil
	}
	frames = ofUsualSize(frames)
	all := make([]*pixel.Colour, min(len(frames), setFrames))
	parallel.Each(len(all), 0, func(i int) {
		defer pixel.Guard(func(error) {}) // it is met again, and said, when the frame's turn comes
		if ctx.Err() == nil {
			f := frames[i*len(frames)/len(all)]
			if c, size, err := reduced(m, f); err == nil && size == image.Pt(f.Width, f.Height) {
				all[i] = c
			} // what cannot be read is refused with its reason when its turn comes
		}
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	all = slices.DeleteFunc(all, func(c *pixel.Colour) bool { return c == nil })
	if len(all) < fewestFrames {
		return nil, fmt.Errorf("the empty set cannot be told from %d frames of one size\n"+
			"hint: photograph the set without an animal and name that frame in shoot.toml: empty = "+
			"\"IMG_9000.JPG\"", len(all))
	}
	return newFinder(agreed(all), image.Pt(frames[0].Width, frames[0].Height), m), nil
}

func newFinder(back *pixel.Colour, size image.Point, d *pixel.Decoder) *Finder {
	return &Finder{
		k: pixel.FindingScale(size.X, size.Y), w: size.X, h: size.Y,
		back: back, decoder: d,
	}
}

// reduced decodes a frame as small as animals are looked for in, and tells its whole size.
func reduced(m *pixel.Decoder, f frame.Frame) (*pixel.Colour, image.Point, error) {
	p, err := m.Open(f)
	if err != nil {
		return nil, image.Point{}, err
	}
	defer p.Close()
	size := p.Size()
	c := p.Small()
	return &pixel.Colour{W: c.W, H: c.H, Pix: slices.Clone(c.Pix)}, size, nil
}

// Hint is what is known before looking.
type Hint struct {
	Length float64      // px, about, of a body; 0 where unknown
	Travel animal.Point // unit vector of the travel in the picture
}
