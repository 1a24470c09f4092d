package annotate

import (
	"math"

	"leadmark/calib"
	"leadmark/vision/ruler"
)

// box is a region of a picture as displayed, between pixel edges: the top-left pixel covers
// -0.5 to 0.5.
type box struct{ X0, Y0, X1, Y1 float64 }

func (b box) w() float64 { return b.X1 - b.X0 }

// frontOf is where the front end was found.
func frontOf(f calib.FrameResult) (ruler.Point, bool) {
	if f.Reading.Front != nil {
		return f.Reading.Front.At, true
	}
	return f.FrontPX, f.FrontPX != ruler.Point{}
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

// view is a piece of a frame at a size to show, w x h, and the region of the frame that it shows.
type view struct {
	w, h   float64
	region box
}

// viewOfClip shows a clip with its longer side at a length.
func viewOfClip(c ruler.Clip, long float64) view {
	w, h := float64(max(c.Width, 1)), float64(max(c.Height, 1))
	k := long / max(w, h)
	return view{k * w, k * h, box{c.Left, c.Top, c.Left + c.Scale*w, c.Top + c.Scale*h}}
}

// k is how many units of the view one pixel of the frame takes.
func (v view) k() float64 { return v.w / v.region.w() }

// at is where a place of the frame lies in the view.
func (v view) at(p ruler.Point) ruler.Point {
	return ruler.Point{X: (p.X - v.region.X0) * v.k(), Y: (p.Y - v.region.Y0) * v.k()}
}
