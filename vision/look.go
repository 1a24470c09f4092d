package vision

import (
	"context"
	"errors"

	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/marks"
	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
	"leadmark/vision/scene"
)

// Looker looks at pictures, one after the other or several at a time, and keeps the memory that
// they took.
type Looker struct{ decoder *pixel.Decoder }

// NewLooker returns one that has its pictures decoded by a library.
func NewLooker(l pixel.Library) *Looker { return &Looker{decoder: &pixel.Decoder{Library: l}} }

// Look finds rulers in one picture. What keeps a picture from being read is said in the Sighting's
// Refusal; an error means that the search itself was broken off or, where it is a *frame.Refusal,
// that the file does not hold the picture that was listed.
func (l *Looker) Look(ctx context.Context, f frame.Frame, h ruler.Hint) (s ruler.Sighting, err error) {
	refuse := func(n note.Note) ruler.Sighting {
		return ruler.Sighting{Width: f.Width, Height: f.Height, Refusal: n}
	}
	defer pixel.Guard(func(fault error) { s, err = refuse(note.New("program-fault", fault)), nil })
	if err := ctx.Err(); err != nil {
		return ruler.Sighting{}, err
	}
	p, err := l.decoder.Decode(f, reduction(f, h), rowsNeeded(f, h))
	if gone := (*frame.Refusal)(nil); errors.As(err, &gone) {
		return ruler.Sighting{}, gone
	}
	if err != nil {
		return refuse(note.Of("unreadable", "picture", err)), nil
	}
	s = sight(l.decoder.Library, p, h)
	l.decoder.Free(p.Levels[0].Pix)
	return s, nil
}

// Shift says how far the scene of b lies from that of a and, where that is a move, whether all
// parts of the picture moved alike. ok is false where the two cannot be compared.
func Shift(a, b ruler.Backdrop) (s ruler.Shift, ok bool) { return scene.Shift(a, b) }

// sight finds the rows of graduations of a picture.
func sight(l pixel.Library, p pixel.Pyramid, h ruler.Hint) ruler.Sighting {
	s := ruler.Sighting{Width: p.WholeW, Height: p.WholeH, Rows: marks.Detect(p, h)}
	s.Symbol = findSymbol(p, h.Slates || len(s.Rows) == 0 || h.Pitch == 0)
	if len(s.Rows) == 0 {
		s.Refusal = whyNothing(p)
	}
	s.Backdrop = scene.Backdrop(p, s.Rows)
	s.Clips = clips(l, p, s.Rows)
	return s
}

// whyNothing says what is wrong with a picture in which no row was found.
func whyNothing(p pixel.Pyramid) note.Note {
	small, _ := p.Small()
	var hist [256]int
	for _, v := range small.Pix {
		hist[v]++
	}
	n, bright := 0, 255
	for ; bright > 0 && n < len(small.Pix)/100; bright-- {
		n += hist[bright]
	}
	if bright < 24 {
		return note.New("dark")
	}
	return note.New("no-ruler")
}

// ReadSlate looks for a QR symbol alone in one picture, not for rulers. An error is as for Look.
func (l *Looker) ReadSlate(ctx context.Context, f frame.Frame) (ruler.Symbol, error) {
	if err := ctx.Err(); err != nil {
		return ruler.Symbol{}, err
	}
	p, err := l.decoder.Decode(f, 2, f.StoredHeight)
	if gone := (*frame.Refusal)(nil); errors.As(err, &gone) {
		return ruler.Symbol{}, gone
	}
	if err != nil {
		return ruler.Symbol{}, nil // the reading of the frame says so
	}
	found := findSymbol(p, true)
	l.decoder.Free(p.Levels[0].Pix)
	return found, nil
}
