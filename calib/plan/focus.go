package plan

import (
	"math"

	"leadmark/calib/plan/reach"
	"leadmark/calib/plan/subject"
	"leadmark/calib/rig"
)

// How far the ISO may be raised above the rig's own, in stops, for a lower power and so a shorter
// flash (common practice, no source: two stops cost little in noise), and the share of the best
// chance that is worth no further stop.
const (
	mostRaise   = 2
	enoughShare = 0.9
	raiseDraws  = 1 << 12 // trips by which the stops are compared
)

// focus plans aperture and light together. Where the ISO is not asked for it is raised, by whole
// stops, as long as that brings clearly more keepers: a shorter flash is what freezes.
func (w *work) focus() {
	f := w.focuser()
	if w.opt.ISO > 0 || !f.planLight {
		w.focusAt(f)
		return
	}
	var keeper [mostRaise + 1]float64
	most := 0.0
	few := w.model.Sample(raiseDraws, w.opt.Seed, 7)
	w.drawn += few.Total()
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

func (w *work) focuser() focuser {
	away := w.away()
	return focuser{lens: w.framing.Optics, pixel: w.pixelPitch(), heads: w.req.Rig.Flash,
		iso: w.iso(), planLight: len(w.req.Rig.Flash) > 0,
		depth: w.set.Quantile(away, 0.5), pace: w.set.Quantile(w.set.Pace, 0.5),
		deepest: w.set.Quantile(away, w.opt.Probability),
		fastest: w.set.Quantile(w.set.Pace, w.opt.Probability)}
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
	w.focused = &Focus{Optics: o, Stated: w.opt.FNumber > 0,
		Limit: printBlur * long / w.opt.PrintLong, Print: w.opt.PrintLong / long,
		PrintLong: w.opt.PrintLong,
		Depth:     f.deepest, Pace: f.fastest, MidDepth: f.depth, MidPace: f.pace, Blur: b,
		PixelPitch: f.pixel}
	w.focused.Far, w.focused.Near = o.DepthOfField(w.focused.Limit)
	if f.planLight {
		w.light = &l
		w.finishLight()
	}
}

// away is how far each trip's body, or its nose where that is what must be sharp, lies from the
// plane in focus.
func (w *work) away() []float64 {
	if w.req.Subject.FocusOn != subject.FocusNose {
		return w.set.Face[reach.Aside]
	}
	away := make([]float64, len(w.set.Mid))
	for i, z := range w.set.Mid {
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

// finishLight takes up with the ISO what the steps of the power leave, and adds what else the light
// means.
func (w *work) finishLight() {
	l, p := w.light, w.req.Rig
	if w.opt.ISO == 0 && math.Abs(l.Over) <= 0.75 && l.FNumber > 0 {
		steps := math.Round(-3 * l.Over)
		l.Rescale(math.Exp2(steps / 3))
	}
	l.Freeze(p.Flash, w.focused.Pace, w.focused.Optics.Magnification, w.focused.Limit)
	l.Exposure = w.opt.Exposure
	if l.Exposure == 0 && p.Camera.Shutter != rig.ShutterOpen {
		l.Exposure = p.Camera.Sync
	}
	if l.Exposure > 0 {
		l.Streak = w.focused.Pace * l.Exposure * w.focused.Optics.Magnification
		if ev := p.Camera.AmbientEV100; ev != nil {
			l.Ambient(*ev, l.Exposure)
		}
	}
	l.AddEnergy(p.Flash, p.Limits.DayEnergy)
}
