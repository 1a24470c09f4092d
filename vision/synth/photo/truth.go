package photo

import (
	"math"

	"leadmark/vision/ruler"
	"leadmark/vision/synth/paint"
)

// Graduation is where one mark of the ruler truly lies: the middle of the shortest marks' length.
type Graduation struct {
	ReadingMM float64
	PX        ruler.Point
}

// Truth is what a picture shows, exactly, at the effective instant of the flash.
type Truth struct {
	Readable    bool
	Why         string       // why not: no-ruler, dark, blurred, front-out, front-hidden, few-marks
	FrontPX     ruler.Point  // the front end, or the band's leading edge, on the ruler's long axis
	SecondPX    ruler.Point  // the same at the second flash of a twin
	FrontMM     float64      // reading there
	Graduations []Graduation // of the first scale, those to be seen
	AdvanceMM   float64      // of the front end past the true trip point, in space
	AtLineMM    float64      // what a faultless reader has for the advance from the stated line, parallax included
	PxPerMM     float64      // along the ruler, at the stated line
	BlurPX      float64      // standard deviation of all blur along the travel
}

// truth works out what a scene shows; block may be nil.
func (s *Scene) truth(r *placed, block *paint.Layer) Truth {
	t := Truth{AdvanceMM: s.Pose.Advance / mm, FrontMM: r.look.Front() / mm}
	at := r.look.Front()
	if b := r.look.Band; b != nil {
		at, t.FrontMM = b.At, b.At/mm
	}
	t.FrontPX = s.Camera.Project(r.point(at, 0))
	if s.Twin > 0 {
		t.SecondPX = s.Camera.Project(r.point(at, 0).Sub(s.Track.Basis().A.Mul(s.twinMoved())))
	}
	u := s.readingAtLine(r)
	t.AtLineMM = (u - r.look.Front()) / mm
	t.PxPerMM = s.perMetre(r, u) * mm
	t.Graduations = s.seen(r, block)
	t.BlurPX = math.Sqrt(s.blurVariance(r))
	t.Why = s.whyNot(r, block, &t)
	t.Readable = t.Why == ""
	return t
}

// perMetre returns px per metre along the ruler at reading u.
func (s *Scene) perMetre(r *placed, u float64) float64 {
	const h = 0.5 * mm
	return s.Camera.Project(r.point(u+h, 0)).Sub(s.Camera.Project(r.point(u-h, 0))).Len() / (2 * h)
}

// readingAtLine returns the reading where the picture of the stated trip line crosses the picture of
// the ruler's long axis, by bisection along the axis.
func (s *Scene) readingAtLine(r *placed) float64 {
	l := s.Track.Line(s.Camera, s.StatedLine, r.look.Width/2)
	side := func(u float64) float64 { return l.Distance(s.Camera.Project(r.point(u, 0))) }
	mid := r.look.Front() + s.Pose.Advance - s.StatedLine
	low, high := mid-0.05, mid+0.05
	rising := side(high) > side(low)
	for range 50 {
		m := (low + high) / 2
		if side(m) > 0 == rising {
			high = m
		} else {
			low = m
		}
	}
	return (low + high) / 2
}

// seen lists the graduations of the first scale that lie in the picture and are not hidden.
func (s *Scene) seen(r *placed, block *paint.Layer) []Graduation {
	if s.NoRuler {
		return nil
	}
	sc := &r.look.Scales[0]
	v := sc.Middle(r.look.Width)
	var out []Graduation
	for i := sc.From; i <= sc.To; i++ {
		u := float64(i) * sc.Pitch
		if p := s.Camera.Project(r.point(u, v)); s.visible(r, block, u, v, p) {
			out = append(out, Graduation{u / mm, p})
		}
	}
	return out
}

// visible reports whether the place (u, v) of the ruler, at p in the picture, is seen.
func (s *Scene) visible(r *placed, block *paint.Layer, u, v float64, p ruler.Point) bool {
	l := r.look
	if !s.Camera.faces(r.point(u, v)) {
		return false
	}
	if u < l.Front() || u > l.Front()+l.Length || !s.Camera.inside(p, 1) || hidden(block, p) {
		return false
	}
	if l.Hole != nil && math.Hypot(u-l.Hole.At, v) < l.Hole.Radius {
		return false
	}
	if l.Band != nil && u >= l.Band.At && u <= l.Band.At+l.Band.Width {
		return false
	}
	for i := range s.Grips {
		if s.Grips[i].distance(u, v, l.Width/2) < 0 {
			return false
		}
	}
	return true
}

// blurVariance returns the variance of all blur along the travel, px^2.
func (s *Scene) blurVariance(r *placed) float64 {
	k := s.perMetre(r, r.look.Front()) * s.Speed
	v := s.Softness*s.Softness + s.Disk*s.Disk/4
	if s.Unfired {
		return v + k*k*s.Exposure*s.Exposure/12
	}
	ts := s.Flash.Pulse.moments(64)
	mean, sq := 0.0, 0.0
	for _, t := range ts {
		mean += t / 64
		sq += t * t / 64
	}
	return v + k*k*(sq-mean*mean)
}

const fewest = 8 // graduations to be seen, below which nothing can be read

// whyNot says why the picture cannot be read, "" when it can. The limits are wide of the doubtful
// ground, so that a picture called unreadable is so for anybody.
func (s *Scene) whyNot(r *placed, block *paint.Layer, t *Truth) string {
	pitch := s.perMetre(r, r.look.Front()) * r.look.Graduation()
	switch {
	case s.NoRuler:
		return "no-ruler"
	case s.Unfired:
		return "dark"
	case t.BlurPX > 2.5*pitch:
		return "blurred"
	case !s.Camera.inside(t.FrontPX, 2):
		return "front-out"
	case hidden(block, t.FrontPX):
		return "front-hidden"
	case len(t.Graduations) < fewest:
		return "few-marks"
	}
	return ""
}

// Foretell works out the truth without drawing more than what stands before the ruler.
func (s *Scene) Foretell() Truth {
	var block *paint.Layer
	if s.Block != nil && s.Block.Front {
		block = s.Block.paint(s.Camera, s.Track, s.Flash, uint32(s.Seed)+31)
	}
	return s.truth(place(s.Camera, s.Track, s.Pose, &s.Look), block)
}

// FrontPxPerM is the scale along the ruler at its front end, px per metre.
func (s *Scene) FrontPxPerM() float64 {
	return s.perMetre(place(s.Camera, s.Track, s.Pose, &s.Look), s.Look.Front())
}
