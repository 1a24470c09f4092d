package plan

import (
	"math"

	"leadmark/calib/plan/light"
	"leadmark/calib/plan/subject"
	"leadmark/calib/rig"
	"leadmark/fit/note"
)

func (w *work) say(doubts ...note.Note) { w.warnings = append(w.warnings, doubts...) }

// warn notes every doubt about the plan, in the order of its parts.
func (w *work) warn(p Plan) {
	w.say(p.Request.Notes...)
	w.warnSubject(p)
	w.warnDrawing(p)
	if lacks := framingLacks(w.req.Rig); len(lacks) > 0 {
		w.say(note.New("no-camera", lacks))
		return
	}
	w.warnFraming(*p.Framing, *p.Chance)
	w.warnFocus(*p.Focus, *p.Chance)
	if p.Light == nil {
		w.say(note.New("no-heads"))
		return
	}
	w.warnHeads(*p.Light)
	w.warnLight(*p.Light, p)
}

func (w *work) warnSubject(p Plan) {
	s := w.req.Subject
	if w.req.Lag.Assumed {
		w.say(note.New("lag-assumed", w.req.Lag.Mean, w.req.Lag.Spread))
	}
	if len(s.Unstated) > 0 {
		w.say(note.New("unstated", s.Unstated))
	}
	if s.Motion == subject.Table && s.Speed > 0 {
		w.say(note.New("speed-not-used"))
	}
	if share := w.model.SpeedBelowZero(); share > 1e-3 {
		w.say(note.New("speed-cut", share))
	}
	if m := p.Moment; m != nil && m.StandBack > 0 {
		w.say(note.New("too-slow", m.At, m.At+m.StandBack, m.StandBack))
	}
}

// warnDrawing holds the drawn mean lead to its closed form, where there is one: it is off by more
// than six standard errors only where the drawing is wrong.
func (w *work) warnDrawing(p Plan) {
	if exact, ok := w.model.ClosedLead(); ok && math.Abs(exact-p.Lead.Mean) > 6*p.Lead.MeanU+1e-6 {
		w.say(note.New("drawing", p.Lead.Mean, exact))
	}
}

// leastFill is the share of the picture's width below which the subject is lost in it.
const leastFill = 1.0 / 20

func (w *work) warnFraming(f Framing, c Chance) {
	if f.Shortened {
		w.say(note.New("focal-shortened"))
	}
	if w.opt.Field > 0 && c.InField.P < w.opt.Probability-0.003 {
		w.say(note.New("field-clips", f.Field[0], c.InField.P, w.opt.Probability))
	}
	if f.Limited && w.opt.Field == 0 {
		w.say(note.New("closest-focus", f.MaxMagnification, f.Field[0]))
	}
	if f.Fill < leastFill {
		w.say(note.New("too-fast", 1/f.Fill, f.Fill))
	}
}

func (w *work) warnFocus(f Focus, c Chance) {
	if w.req.Rig.Lens.FNumber[0] == 0 && !f.Stated {
		w.say(note.New("no-f-numbers", MarkedFNumber(f.Optics.FNumber)))
	}
	if r := w.req.Rig.Lens.FNumber; f.Stated && r[0] > 0 &&
		(f.Optics.FNumber < r[0]*0.97 || f.Optics.FNumber > r[1]*1.03) {
		w.say(note.New("f-number", MarkedFNumber(f.Optics.FNumber), r[0], r[1]))
	}
	if f.PixelPitch == 0 {
		w.say(note.New("no-pixels"))
	}
	if f.Blur.Diffraction > f.Limit {
		w.say(note.New("diffraction", MarkedFNumber(f.Optics.FNumber), f.Blur.Diffraction, f.Limit))
	}
	if c.InFocus.P < 0.5 {
		w.say(note.New("depth-short", 1-c.InFocus.P))
	}
}

func (w *work) warnHeads(l light.Light) {
	for _, h := range l.Heads {
		switch {
		case len(h.Missing) > 0:
			w.say(note.New("head-incomplete", h.Name, h.Missing))
			continue
		case h.Flash == nil && h.Lights != rig.Backdrop:
			w.say(note.New("no-duration", h.Name, rig.PowerText(h.Power)))
		case h.Flash != nil && h.Flash.Bound && h.Lights != rig.Backdrop:
			w.say(note.New("t01-from-t05", h.Name, rig.PowerText(h.Power)))
		}
		w.warnRange(h)
	}
	w.warnUneven()
	if headsOn(w.req.Rig.Flash, rig.Subject) == 0 {
		w.say(note.New("no-key"))
	}
}

// unevenStops is the difference of light across the reach from which it is told (our own choice, no
// source).
const unevenStops = 1.5

// warnUneven tells of a head so close that the near and the far end of the reach are lit very
// differently: by the square of their distances (inverse square), the reach's longest side taken to
// point at the head.
func (w *work) warnUneven() {
	long := max(w.reach.Along[1]-w.reach.Along[0], w.reach.Up[1]-w.reach.Up[0],
		w.reach.Depth[1]-w.reach.Depth[0])
	for i, h := range w.light.Heads {
		d := w.req.Rig.Flash[i].Distance
		if h.Lights != rig.Subject || len(h.Missing) > 0 {
			continue
		}
		if stops := 2 * math.Log2((d+long/2)/max(d-long/2, d/1e3)); stops > unevenStops {
			w.say(note.New("uneven-light", h.Name, d, long, stops))
			return
		}
	}
}

// warnRange tells of a head whose range of powers does not hold the power that is needed.
func (w *work) warnRange(h light.Head) {
	switch {
	case h.Short > 1.0/6:
		w.say(note.New("too-weak", h.Name, h.Short, rig.PowerText(h.Power), math.Exp2(-h.Short/2)))
	case h.Short < -1.0/6:
		w.say(note.New("too-strong", h.Name, -h.Short, rig.PowerText(h.Power), math.Exp2(-h.Short/2)))
	}
}

// ghostStops is below what the light at the set leaves no trace beside the flash's picture (common
// practice, no source).
const ghostStops = 6

func (w *work) warnLight(l light.Light, p Plan) {
	if c := p.Chance; c.Frozen != nil && c.Frozen.P < 0.5 {
		w.say(notFrozen(l, 1-c.Frozen.P, p.Focus.Limit))
	}
	c := w.req.Rig.Camera
	if w.opt.ISO == 0 && c.ISO == 0 {
		w.say(note.New("no-iso", light.MarkedISO(l.ISO)))
	}
	switch {
	case l.Exposure == 0 && c.Shutter == rig.ShutterOpen:
		w.say(note.New("no-exposure"))
	case l.Exposure == 0:
		w.say(note.New("no-sync"))
	case l.AmbientBelow == nil:
		w.say(note.New("no-ambient"))
	case *l.AmbientBelow < ghostStops:
		w.say(note.New("ambient-ghost", *l.AmbientBelow, l.Streak))
	}
	if e := w.opt.Exposure; e > 0 && c.Sync > 0 && e < c.Sync*0.99 {
		w.say(note.New("sync", e, c.Sync))
	}
	if n := l.TripsADay; l.Energy > 0 && w.req.Rig.Limits.DayEnergy > 0 && len(p.Trips) > 0 &&
		n < p.Trips[len(p.Trips)-1].N {
		w.say(note.New("day-energy", n, p.Trips[len(p.Trips)-1].N))
	}
}

// notFrozen says in what share of trips the flash blurs the motion by more than the limit, and at
// what power it would not.
func notFrozen(l light.Light, share, limit float64) note.Note {
	for _, h := range l.Heads {
		if h.Freeze > 0 && h.Freeze < h.Power {
			return note.Of("not-frozen", "power", l.Longest.T01, limit, share, h.Name, rig.PowerText(h.Freeze),
				h.FreezeAt)
		}
	}
	return note.New("not-frozen", l.Longest.T01, limit, share)
}

// headsOn counts the heads that light something.
func headsOn(heads []rig.Head, l rig.Lights) int {
	n := 0
	for _, h := range heads {
		if h.Lights == l {
			n++
		}
	}
	return n
}
