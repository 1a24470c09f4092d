package report

import (
	"image"
	"math"

	"golang.org/x/image/draw"

	"leadmark/calib"
	"leadmark/ruler"
)

// box is a region of a picture as displayed, between pixel edges: the top-left pixel covers
// -0.5 to 0.5.
type box struct{ X0, Y0, X1, Y1 float64 }

func (b box) w() float64 { return b.X1 - b.X0 }
func (b box) h() float64 { return b.Y1 - b.Y0 }

func (b box) with(p ruler.Point) box {
	return box{min(b.X0, p.X), min(b.Y0, p.Y), max(b.X1, p.X), max(b.Y1, p.Y)}
}

func emptyBox() box { return box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)} }

// lineMark is a line that is drawn across the pictures, and what it is called.
type lineMark struct {
	line *ruler.Line // nil where there is none
	name string
}

// drawnTrip is the trip line to draw: the true place where the run knows it, else the line the
// advances are counted from.
func drawnTrip(r calib.Result) lineMark {
	switch {
	case r.TripLine != nil:
		return lineMark{r.TripLine, "trip line"}
	case r.Run.Trip != nil:
		return lineMark{r.CountLine, "trip line"}
	}
	return lineMark{r.CountLine, "counting line"}
}

// tripOn is where the line crosses the ruler's long axis in this frame, the place the advance is taken from.
func tripOn(f calib.FrameResult, trip lineMark) (ruler.Point, bool) {
	s := f.Reading.Scale
	if trip.line == nil || s.Dir.Len() == 0 {
		return ruler.Point{}, false
	}
	if s.Long.A != s.Long.B {
		return trip.line.Meet(s.Long)
	}
	return trip.line.Meet(s.Axis())
}

// frontOf is where the front end was found.
func frontOf(f calib.FrameResult) (ruler.Point, bool) {
	if f.Reading.Front != nil {
		return f.Reading.Front.At, true
	}
	return f.FrontPX, f.FrontPX != ruler.Point{}
}

// reachBox holds the front end and the trip place, with the ruler's width and a margin around: the
// part of the picture that the reading rests on.
func reachBox(f calib.FrameResult, trip lineMark) (box, bool) {
	front, ok := frontOf(f)
	if f.Status != ruler.StatusRead || !ok {
		return box{}, false
	}
	b := emptyBox().with(front)
	if t := f.Reading.Twin; t != nil {
		b = b.with(t.Second.At)
	}
	if p, ok := tripOn(f, trip); ok && inPicture(f, p) {
		b = b.with(p)
	}
	margin := max(0.14*math.Hypot(b.w(), b.h()), 25e-3*f.PxPerM, 40)
	margin = max(margin, 0.8*halfWidth(f.Reading))
	return box{b.X0 - margin, b.Y0 - margin, b.X1 + margin, b.Y1 + margin}, true
}

// rulerBox holds all of the ruler that was found, and the trip place.
func rulerBox(f calib.FrameResult, trip lineMark) (box, bool) {
	b, ok := reachBox(f, trip)
	if !ok && (f.Status != ruler.StatusRead || f.Reading.Outline == [4]ruler.Point{}) {
		return box{}, false
	}
	if !ok { // its front end is not in the picture
		b = emptyBox()
	}
	if o := f.Reading.Outline; o != [4]ruler.Point{} {
		for _, p := range o {
			b = b.with(p)
		}
	}
	return b, true
}

func inPicture(f calib.FrameResult, p ruler.Point) bool {
	return p.X > -1 && p.Y > -1 && p.X < float64(f.Width)+1 && p.Y < float64(f.Height)+1
}

// halfWidth is half the width of the ruler across its axis, in pixels; 0 where it is not known.
func halfWidth(r ruler.Reading) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range r.Outline {
		d := r.Scale.Dir.Cross(p.Sub(r.Scale.Origin))
		lo, hi = min(lo, d), max(hi, d)
	}
	return (hi - lo) / 2
}

// shaped grows b to the aspect w/h about its centre, then moves and cuts it to the picture.
func (b box) shaped(aspect float64, width, height int) box {
	w, h := b.w(), b.h()
	if w < aspect*h {
		w = aspect * h
	} else {
		h = w / aspect
	}
	w, h = min(w, float64(width)), min(h, float64(height))
	cx, cy := (b.X0+b.X1)/2, (b.Y0+b.Y1)/2
	cx = min(max(cx, w/2-0.5), float64(width)-0.5-w/2)
	cy = min(max(cy, h/2-0.5), float64(height)-0.5-h/2)
	return box{cx - w/2, cy - h/2, cx + w/2, cy + h/2}
}

// view is a piece of a picture at a size to show, and the region of the frame that it shows.
type view struct {
	img    *image.RGBA
	region box
}

// k is how many pixels of the view one pixel of the frame takes.
func (v view) k() float64 { return float64(v.img.Rect.Dx()) / v.region.w() }

// at is where a place of the frame lies in the view, between pixel edges.
func (v view) at(p ruler.Point) ruler.Point {
	return ruler.Point{X: (p.X - v.region.X0) * v.k(), Y: (p.Y - v.region.Y0) * v.k()}
}

// cut takes region b of a frame of the given width out of its reduced picture, its long side
// brought to at most long pixels. The region is widened to whole pixels of the reduced picture.
func cut(src image.Image, width int, b box, long int) view {
	bounds := src.Bounds()
	k := float64(bounds.Dx()) / float64(width) // pixels of the reduced picture for one of the frame
	r := image.Rect(int(math.Floor((b.X0+0.5)*k)), int(math.Floor((b.Y0+0.5)*k)),
		int(math.Ceil((b.X1+0.5)*k)), int(math.Ceil((b.Y1+0.5)*k))).Intersect(image.Rect(0, 0, bounds.Dx(), bounds.Dy()))
	if r.Empty() {
		r = image.Rect(0, 0, bounds.Dx(), bounds.Dy())
	}
	shrink := min(1, float64(long)/float64(max(r.Dx(), r.Dy())))
	dst := image.NewRGBA(image.Rect(0, 0, max(1, int(math.Round(float64(r.Dx())*shrink))), max(1, int(math.Round(float64(r.Dy())*shrink)))))
	draw.ApproxBiLinear.Scale(dst, dst.Rect, src, r.Add(bounds.Min), draw.Src, nil)
	return view{dst, box{float64(r.Min.X)/k - 0.5, float64(r.Min.Y)/k - 0.5, float64(r.Max.X)/k - 0.5, float64(r.Max.Y)/k - 0.5}}
}
