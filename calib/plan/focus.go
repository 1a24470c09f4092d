package plan

import (
	"math"

	"leadmark/calib/rig"
	"leadmark/fit/stat"
)

// Focus is the aperture and what it makes of the picture's sharpness.
type Focus struct {
	Optics     Optics
	Stated     bool    // the f-number was asked for
	Limit      float64 // m on the sensor, the blur that counts as sharp
	Print      float64 // print over sensor
	PrintLong  float64 // m, long side of the print
	Far, Near  float64 // m, depths within which the blur of defocus is below Limit
	Depth      float64 // m, what must lie in focus on either side for a share p of trips
	Pace       float64 // m/s across the view, below which a share p of trips lie
	MidDepth   float64 // m, half the trips need no more depth than this
	MidPace    float64 // m/s, half the trips are no faster across the view
	Blur       Blur    // at that depth and pace: half the trips are no worse
	PixelPitch float64 // m; 0 where unknown
}

// Blur is every blur of the picture in one budget: diameters in metres on the sensor. The total is the root of the sum of squares, as of
// independent blurs (their variances add; that diameters do so too is common practice, no source).
type Blur struct {
	Motion                             float64
	Frozen                             bool // Motion is known
	Defocus, Diffraction, Pixel, Total float64
}

// focuser has what the choice of aperture rests on.
type focuser struct {
	lens      Optics // at the magnification, without an f-number
	depth     float64
	pace      float64
	deepest   float64 // depth and pace that all but a few trips stay within
	fastest   float64
	pixel     float64
	heads     []rig.Head
	iso       float64
	planLight bool
}

// blurAt is the budget at an f-number with the light it needs.
func (f focuser) blurAt(n float64) (Optics, Blur, Light) {
	o := f.lens
	o.FNumber = n
	b := Blur{Defocus: math.Max(o.Defocus(f.depth), o.Defocus(-f.depth)), Diffraction: o.Diffraction(), Pixel: f.pixel}
	var l Light
	if f.planLight {
		l = lightFor(f.heads, o.EffectiveFNumber(), f.iso)
		if l.Longest != nil {
			b.Motion, b.Frozen = MotionBlur(f.pace, l.Longest.T01, o.Magnification), true
		}
	}
	b.Total = math.Sqrt(sq(b.Motion) + sq(b.Defocus) + sq(b.Diffraction) + sq(b.Pixel))
	return o, b, l
}

// short is by how many stops the heads on the subject are too weak.
func (l Light) short() float64 {
	most := 0.0
	for _, h := range l.Heads {
		if h.Lights == rig.Subject {
			most = max(most, h.Short)
		}
	}
	return most
}

// choose takes of the f-numbers that lenses mark in thirds of a stop the one of the least total blur, among those for which
// the heads suffice where there are any: a wider one blurs by defocus, a narrower one by diffraction and, since it needs more
// power and so a longer flash, by motion. The blur is that of the middle trip: to save the furthest few by a very narrow aperture
// would soften all of them.
func (f focuser) choose(widest, narrowest float64) float64 {
	best, least, bright := 0.0, math.Inf(1), false
	for _, n := range thirdStops(widest, narrowest) {
		_, b, l := f.blurAt(n)
		enough := !f.planLight || l.short() < 1.0/6
		if enough && !bright || enough == bright && b.Total < least*(1-1e-9) {
			best, least, bright = n, b.Total, enough
		}
	}
	return best
}

// The f-numbers tried where rig.toml states none.
const (
	widestTried    = 1.4
	narrowestTried = 45
)

// How far the ISO may be raised above the rig's own, in stops, for a lower power and so a shorter flash (common practice, no
// source: two stops cost little in noise), and the share of the best chance that is worth no further stop.
const (
	mostRaise   = 2
	enoughShare = 0.9
	raiseDraws  = 1 << 12 // trips by which the stops are compared
)

// focus plans aperture and light together. Where the ISO is not asked for it is raised, by whole stops, as long as
// that brings clearly more keepers: a shorter flash is what freezes.
func (w *work) focus() {
	f := w.focuser()
	if w.opt.ISO > 0 || !f.planLight {
		w.focusAt(f)
		return
	}
	var keeper [mostRaise + 1]float64
	most := 0.0
	few := w.model.draws(raiseDraws, w.opt.Seed, 7)
	w.drawn += few.total()
	for raise := range keeper {
		w.focusAt(f.raised(raise))
		if k, known := w.settingsOf(); known {
			keeper[raise] = k.keeper(few).P
		}
		most = max(most, keeper[raise])
	}
	for raise, p := range keeper {
		if p >= enoughShare*most {
			w.focusAt(f.raised(raise))
			return
		}
	}
}

// raised is at an ISO so many stops higher.
func (f focuser) raised(stops int) focuser {
	f.iso *= math.Exp2(float64(stops))
	return f
}

func (w *work) focuser() focuser {
	away := w.away()
	return focuser{lens: w.framing.Optics, pixel: w.pixelPitch(), heads: w.req.Rig.Flash, iso: w.iso(), planLight: len(w.req.Rig.Flash) > 0,
		depth: w.quantile(away, 0.5), pace: w.quantile(w.set.pace, 0.5),
		deepest: w.quantile(away, w.opt.Probability), fastest: w.quantile(w.set.pace, w.opt.Probability)}
}

// focusAt plans aperture and light at an ISO.
func (w *work) focusAt(f focuser) {
	p := w.req.Rig
	long := max(p.Camera.Sensor[0], p.Camera.Sensor[1])
	n := w.opt.FNumber
	if n == 0 {
		widest, narrowest := p.Lens.FNumber[0], p.Lens.FNumber[1]
		if widest == 0 {
			widest, narrowest = widestTried, narrowestTried
		}
		n = f.choose(widest, narrowest)
	}
	o, b, l := f.blurAt(n)
	w.focused = &Focus{Optics: o, Stated: w.opt.FNumber > 0, Limit: printBlur * long / w.opt.PrintLong, Print: w.opt.PrintLong / long, PrintLong: w.opt.PrintLong,
		Depth: f.deepest, Pace: f.fastest, MidDepth: f.depth, MidPace: f.pace, Blur: b, PixelPitch: f.pixel}
	w.focused.Far, w.focused.Near = o.DepthOfField(w.focused.Limit)
	if f.planLight {
		w.light = &l
		w.finishLight()
	}
}

// away is how far each trip's body, or its nose where that is what must be sharp, lies from the plane in focus.
func (w *work) away() []float64 {
	if w.req.Subject.FocusOn != FocusNose {
		return w.set.face[aside]
	}
	away := make([]float64, len(w.set.mid))
	for i, z := range w.set.mid {
		away[i] = math.Abs(z)
	}
	return away
}

func (w *work) pixelPitch() float64 {
	c := w.req.Rig.Camera
	if c.Pixels[0] == 0 {
		return 0
	}
	return max(c.Sensor[0], c.Sensor[1]) / float64(max(c.Pixels[0], c.Pixels[1]))
}

func (w *work) iso() float64 {
	switch {
	case w.opt.ISO > 0:
		return w.opt.ISO
	case w.req.Rig.Camera.ISO > 0:
		return float64(w.req.Rig.Camera.ISO)
	}
	return 100
}

// finishLight takes up with the ISO what the steps of the power leave, and adds what else the light means.
func (w *work) finishLight() {
	l, p := w.light, w.req.Rig
	if w.opt.ISO == 0 && math.Abs(l.Over) <= 0.75 && l.FNumber > 0 {
		steps := math.Round(-3 * l.Over)
		l.rescale(math.Exp2(steps / 3))
	}
	l.freeze(p.Flash, w.focused.Pace, w.focused.Optics.Magnification, w.focused.Limit)
	l.Exposure = w.opt.Exposure
	if l.Exposure == 0 && p.Camera.Shutter != rig.ShutterOpen {
		l.Exposure = p.Camera.Sync
	}
	if l.Exposure > 0 {
		l.Streak = w.focused.Pace * l.Exposure * w.focused.Optics.Magnification
		if ev := p.Camera.AmbientEV100; ev != nil {
			l.ambient(*ev, l.Exposure)
		}
	}
	l.energy(p.Flash, p.Limits.DayEnergy)
}

// rescale changes the ISO, and all that follows from it, by a factor.
func (l *Light) rescale(k float64) {
	l.ISO *= k
	l.FNumber *= math.Sqrt(k)
	l.Over += math.Log2(k)
	for i := range l.Heads {
		h := &l.Heads[i]
		h.FNumber *= math.Sqrt(k)
		h.Over += math.Log2(k)
	}
}

// quantile is the value below which a share p lies, from a quarter of the trips: what it is asked for needs no more. The values
// stay in order.
func (w *work) quantile(x []float64, p float64) float64 {
	x = x[:starts/4*w.set.n]
	return stat.Quantile(append([]float64{}, x...), p)
}

// MarkedISO rounds an ISO speed to the nearest that cameras mark, in thirds of a stop.
func MarkedISO(iso float64) float64 {
	marks := []float64{100, 125, 160}
	k := int(math.Round(3 * math.Log2(iso/100)))
	octave, third := k/3, k%3
	if third < 0 {
		octave, third = octave-1, third+3
	}
	return math.Round(marks[third] * math.Exp2(float64(octave)))
}
