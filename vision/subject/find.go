package subject

import (
	"context"
	"errors"
	"image"
	"math"
	"sort"

	"leadmark/fit/note"
	"leadmark/vision/animal"
	"leadmark/vision/edge"
	"leadmark/vision/frame"
	"leadmark/vision/pixel"
)

const (
	leastArea  = 0.02   // of a body's length squared, that counts as an animal: about a tenth of it
	leastShare = 0.0008 // of the picture, where no length is known
	alikeShare = 0.25   // of the outline in a safe colour, below which it cannot be told
)

// find finds the animals of a picture.
func (s *Finder) find(p *pixel.Photo, h Hint) (animal.Sighting, error) {
	small := p.Small()
	out := animal.Sighting{Width: s.w, Height: s.h, Thumb: thumb(s.decoder.Library, small, s.k)}
	f := s.difference()
	defer s.spare.Put(f)
	f.compare(small, s.back)
	k := float64(s.k)
	least := leastShare * float64(f.w*f.h)
	if h.Length > 0 {
		least = leastArea * h.Length * h.Length / (k * k)
	}
	f.close(max(1, int(0.012*math.Sqrt(least/leastArea)+0.5)))
	for _, b := range f.blobs(least) {
		a, ok, err := s.measured(p, f, b, h.Travel, least)
		if err != nil {
			return out, err
		}
		if ok {
			out.Found = append(out.Found, a)
		}
	}
	sort.SliceStable(out.Found, func(i, j int) bool { return out.Found[i].Area > out.Found[j].Area })
	for len(out.Found) > 1 && out.Found[len(out.Found)-1].Area < secondAnimal*out.Found[0].Area {
		out.Found = out.Found[:len(out.Found)-1]
	}
	out.Alike = len(out.Found) > 0 && out.Found[0].Clean < alikeShare
	return out, nil
}

// difference is a spare one, or a new one.
func (s *Finder) difference() *difference {
	if f, ok := s.spare.Get().(*difference); ok {
		return f
	}
	return newDifference(s.decoder.Library, s.back.W, s.back.H)
}

// close joins what is less than 2r + 1 pixels apart.
func (f *difference) close(r int) {
	if 2*r+1 > min(f.w, f.h) {
		return
	}
	if wide := f.library.Dilate(&pixel.Gray{W: f.w, H: f.h, Pix: f.mask}, r); wide != nil {
		if closed := f.library.Erode(wide, r); closed != nil {
			copy(f.mask, closed.Pix)
		}
	}
}

// measured measures an animal, how blurred its edges are, and by that the animal again: half of the
// step of a blurred edge is only told from the tone well inside.
func (s *Finder) measured(
	p *pixel.Photo, f *difference, b *blob, travel animal.Point, least float64,
) (a animal.Animal, ok bool, err error) {
	small, ok := f.measure(b, travel, least, 2)
	if !ok {
		return small, false, nil
	}
	whole, err := s.patch(p, f, b)
	if err != nil {
		return small, false, err
	}
	e := s.edges(whole, small, travel)
	if e != nil {
		// From where an edge begins to where its step is whole, about.
		soft := (2*e.Blur + 2.2*e.Motion/math.Ln10) / float64(s.k)
		if again, ok := f.measure(b, travel, least, min(soft, 25)); ok {
			small = again
		}
	}
	a = s.enlarged(small)
	a.Edges, a.Clipped = e, f.clipped(small)
	return a, true, nil
}

// patch is the part of the whole picture that holds a thing, with room for its blurred edges.
func (s *Finder) patch(p *pixel.Photo, f *difference, b *blob) (*edge.Patch, error) {
	const room = 0.15 // of its longer side
	more := 16 + int(room*float64(s.k*max(b.x1-b.x0, b.y1-b.y0)))
	r := image.Rect(b.x0*s.k, b.y0*s.k, b.x1*s.k, b.y1*s.k).Inset(-more).Intersect(image.Rect(0, 0, s.w, s.h))
	pic, err := p.Part(r, true)
	if err != nil {
		return nil, err
	}
	return edge.NewPatch(pic, r.Min, f.back, s.k, p.Shared()), nil
}

// burnt is the tone from which a channel counts as at its end.
const burnt = 254

// clipped is the share of an animal's box, where it differs from the set, in which a channel is at
// its end.
func (f *difference) clipped(a animal.Animal) float64 {
	n, all := 0, 0
	for y := int(a.Box[0].Y); y <= int(a.Box[1].Y); y++ {
		for x := int(a.Box[0].X); x <= int(a.Box[1].X); x++ {
			i := y*f.w + x
			if f.mask[i] == 0 {
				continue
			}
			all++
			if max(f.pic.Pix[3*i], f.pic.Pix[3*i+1], f.pic.Pix[3*i+2]) >= burnt {
				n++
			}
		}
	}
	return float64(n) / float64(max(1, all))
}

// edges measures the widths of an animal's edges on the whole picture.
func (s *Finder) edges(p *edge.Patch, small animal.Animal, travel animal.Point) *animal.Edges {
	const rim = 3 // reduced pixels by the picture's own edge that are no outline
	whole := make([]animal.Point, len(small.Outline))
	for i, q := range small.Outline {
		f := pixel.Full(q.X, q.Y, float64(s.k))
		whole[i] = animal.Point{X: f.X, Y: f.Y}
	}
	inner := image.Rect(0, 0, s.w, s.h).Inset(rim * s.k)
	return edge.Measure(p, whole, inner, travel)
}

// Look finds the animals in one picture. What keeps it from being looked at is said in the
// Sighting's Refusal; an error means that the search was broken off.
func (s *Finder) Look(ctx context.Context, f frame.Frame, h Hint) (seen animal.Sighting, err error) {
	if err := ctx.Err(); err != nil {
		return animal.Sighting{}, err
	}
	refuse := func(n note.Note) (animal.Sighting, error) {
		return animal.Sighting{Width: f.Width, Height: f.Height, Refusal: n}, nil
	}
	defer pixel.Guard(func(fault error) { seen, err = refuse(note.New("program-fault", fault)) })
	if f.Width != s.w || f.Height != s.h {
		return refuse(note.Of("other-size", "set", f.Width, f.Height, s.w, s.h))
	}
	p, err := s.decoder.Open(f)
	if gone := (*frame.Refusal)(nil); errors.As(err, &gone) {
		return refuse(gone.Note)
	}
	if err != nil {
		return refuse(note.Of("unreadable", "picture", err))
	}
	defer p.Close()
	found, err := s.find(p, h)
	if err != nil {
		return refuse(note.Of("unreadable", "picture", err))
	}
	return found, nil
}
