package plan

import (
	"fmt"
	"math"
	"strings"

	"leadmark/calib/plan/light"
	"leadmark/calib/plan/subject"
	"leadmark/calib/rig"
)

func (w *work) say(code, format string, args ...any) {
	w.warnings = append(w.warnings, Warning{code, fmt.Sprintf(format, args...)})
}

// warn notes every doubt about the plan, in the order of its parts.
func (w *work) warn(p Plan) {
	w.warnings = append(w.warnings, p.Request.Notes...)
	w.warnSubject(p)
	w.warnDrawing(p)
	if lacks := framingLacks(w.req.Rig); len(lacks) > 0 {
		w.say("no-camera",
			"the rig does not state %s, so the field, focus, light and chances cannot be planned",
			strings.Join(lacks, " and "))
		return
	}
	w.warnFraming(*p.Framing, *p.Chance)
	w.warnFocus(*p.Focus, *p.Chance)
	if p.Light == nil {
		w.say("no-heads",
			"the rig states no [[flash]] head, so neither the light nor freezing can be planned")
		return
	}
	w.warnHeads(*p.Light)
	w.warnLight(*p.Light, p)
}

func (w *work) warnSubject(p Plan) {
	s := w.req.Subject
	if w.req.Lag.Assumed {
		w.say("lag-assumed",
			"the lag of %.4g ms and its spread of %.3g ms are assumed, not measured: calibrate "+
				"the rig before an animal is brought in", w.req.Lag.Mean*1e3, w.req.Lag.Spread*1e3)
	}
	if len(s.Unstated) > 0 {
		w.say("unstated",
			"the subject does not state %s; taken as 0, which makes the reach too small if it is not",
			strings.Join(s.Unstated, ", "))
	}
	if s.Motion == subject.Table && s.Speed > 0 {
		w.say("speed-not-used",
			"speed_mps is not used with a measured course, which has its own speed; how far "+
				"strikes differ from one another in speed is not in the plan")
	}
	if share := w.model.SpeedBelowZero(); share > 1e-3 {
		w.say("speed-cut",
			"%.2g %% of the stated speeds would be below zero and are drawn again: is speed_sd_mps too large?",
			100*share)
	}
	if m := p.Moment; m != nil && m.StandBack > 0 {
		w.say("too-slow",
			"the rig is too slow to have the nose at %.4g mm: even without added delay it is at "+
				"%.4g mm on average; the beam must stand back by %.3g mm", m.At*1e3,
			(m.At+m.StandBack)*1e3, m.StandBack*1e3)
	}
}

// warnDrawing holds the drawn mean lead to its closed form, where there is one: it is off by more
// than six standard errors only where the drawing is wrong.
func (w *work) warnDrawing(p Plan) {
	if exact, ok := w.model.ClosedLead(); ok && math.Abs(exact-p.Lead.Mean) > 6*p.Lead.MeanU+1e-6 {
		w.say("drawing",
			"the drawn mean lead of %.4g mm does not agree with its closed form, %.4g mm: draw "+
				"more trips with --draws", p.Lead.Mean*1e3, exact*1e3)
	}
}

// leastFill is the share of the picture's width below which the subject is lost in it.
const leastFill = 1.0 / 20

func (w *work) warnFraming(f Framing, c Chance) {
	if f.Shortened {
		w.say("focal-shortened",
			"closest_mm is nearer than four focal lengths, where a simple lens does not focus: "+
				"yours shortens its focal length there; 1:1 is taken as its largest magnification. "+
				"State max_magnification in [lens]")
	}
	if w.opt.Field > 0 && c.InField.P < w.opt.Probability-0.003 {
		w.say("field-clips",
			"a field of %.4g mm holds the whole body in %.0f %% of trips only, less than the %g %% asked for",
			f.Field[0]*1e3, 100*c.InField.P, 100*w.opt.Probability)
	}
	if f.Limited && w.opt.Field == 0 {
		w.say("closest-focus",
			"the reach would fit a smaller field, but the lens goes no closer: at its largest "+
				"magnification of %.3g the field is %.4g mm wide", f.MaxMagnification, f.Field[0]*1e3)
	}
	if f.Fill < leastFill {
		w.say("too-fast",
			"the subject is fast for this rig: the field that holds it is %.0f body lengths "+
				"wide, and the body fills %.1f %% of the picture's width. A shorter lag, less "+
				"scatter in speed, or a lower --probability makes it larger", 1/f.Fill, 100*f.Fill)
	}
}

func (w *work) warnFocus(f Focus, c Chance) {
	if w.req.Rig.Lens.FNumber[0] == 0 && !f.Stated {
		w.say("no-f-numbers",
			"f_numbers in [lens] is not stated: f/%g is what balances best, whether or not the lens has it",
			MarkedFNumber(f.Optics.FNumber))
	}
	if r := w.req.Rig.Lens.FNumber; f.Stated && r[0] > 0 &&
		(f.Optics.FNumber < r[0]*0.97 || f.Optics.FNumber > r[1]*1.03) {
		w.say("f-number", "f/%g is outside the lens's f/%g to f/%g",
			MarkedFNumber(f.Optics.FNumber), r[0], r[1])
	}
	if f.PixelPitch == 0 {
		w.say("no-pixels",
			"pixels in [camera] is not stated: blur is not told in pixels, and the pixel itself "+
				"is not in its budget")
	}
	if f.Blur.Diffraction > f.Limit {
		w.say("diffraction",
			"at f/%g diffraction alone blurs by %.2g µm, more than the %.2g µm that count as "+
				"sharp on this print", MarkedFNumber(f.Optics.FNumber), f.Blur.Diffraction*1e6,
			f.Limit*1e6)
	}
	if c.InFocus.P < 0.5 {
		w.say("depth-short",
			"the subject's depth is more than the depth of field in %.0f %% of trips: narrow the "+
				"way out along the view, accept a smaller print (--print-mm), or ask for the nose "+
				"alone (focus_on = \"nose\")", 100*(1-c.InFocus.P))
	}
}

func (w *work) warnHeads(l light.Light) {
	for _, h := range l.Heads {
		switch {
		case len(h.Missing) > 0:
			w.say("head-incomplete", "%s: the rig does not state %s, so this head is not planned",
				h.Name, strings.Join(h.Missing, ", "))
			continue
		case h.Flash == nil && h.Lights != rig.Backdrop:
			w.say("no-duration",
				"%s: the rig does not state how long it flashes at %s, so whether the subject is "+
					"frozen is not known; nothing is made up. Measure it, or add it to t01_us", h.Name,
				rig.PowerText(h.Power))
		case h.Flash != nil && h.Flash.Bound && h.Lights != rig.Backdrop:
			w.say("t01-from-t05",
				"%s: only t0.5 is stated at %s; t0.1 is taken as 3.3 times that, as of a flash "+
					"that dies away exponentially. Measured heads have 1.8 to 2 at low power: "+
					"freezing may be better than said", h.Name, rig.PowerText(h.Power))
		}
		w.warnRange(h)
	}
	w.warnUneven()
	if headsOn(w.req.Rig.Flash, rig.Subject) == 0 {
		w.say("no-key",
			"no head lights the subject (lights = \"subject\"), so the exposure cannot be planned")
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
			w.say("uneven-light",
				"%s stands %.3g mm away and the reach is %.3g mm long: between its two ends the "+
					"light may differ by up to %.1f stops. Put it further away, or along the shorter side",
				h.Name, d*1e3, long*1e3, stops)
			return
		}
	}
}

// warnRange tells of a head whose range of powers does not hold the power that is needed.
func (w *work) warnRange(h light.Head) {
	switch {
	case h.Short > 1.0/6:
		w.say("too-weak",
			"%s lacks %.1f stops even at %s: set a higher ISO or a wider aperture, or put it at "+
				"%.2g times the distance", h.Name, h.Short, rig.PowerText(h.Power),
			math.Exp2(-h.Short/2))
	case h.Short < -1.0/6:
		w.say("too-strong",
			"%s is %.1f stops too bright even at %s: set a lower ISO or a smaller aperture, put "+
				"it at %.2g times the distance, or add a gel", h.Name, -h.Short, rig.PowerText(h.Power),
			math.Exp2(-h.Short/2))
	}
}

// ghostStops is below what the light at the set leaves no trace beside the flash's picture (common
// practice, no source).
const ghostStops = 6

func (w *work) warnLight(l light.Light, p Plan) {
	if c := p.Chance; c.Frozen != nil && c.Frozen.P < 0.5 {
		w.say("not-frozen",
			"the flash of %.3g µs blurs the motion by more than %.2g µm in %.0f %% of trips: %s",
			l.Longest.T01*1e6, p.Focus.Limit*1e6, 100*(1-c.Frozen.P), w.freezeHint(l))
	}
	c := w.req.Rig.Camera
	if w.opt.ISO == 0 && c.ISO == 0 {
		w.say("no-iso", "iso in [camera] is not stated: powers are for ISO %s",
			fmt.Sprintf("%.0f", light.MarkedISO(l.ISO)))
	}
	switch {
	case l.Exposure == 0 && c.Shutter == rig.ShutterOpen:
		w.say("no-exposure",
			"the shutter is held open: give how long with --exposure-s to have the light at the set reckoned")
	case l.Exposure == 0:
		w.say("no-sync",
			"sync_s in [camera] is not stated, so the light at the set is not reckoned")
	case l.AmbientBelow == nil:
		w.say("no-ambient",
			"ambient_ev100 in [camera] is not stated, so whether the light at the set leaves a "+
				"ghost is not known")
	case *l.AmbientBelow < ghostStops:
		w.say("ambient-ghost",
			"the light at the set is only %.1f stops below the flash and may leave a streak of "+
				"%.2g mm on the sensor: darken the set, or set a lower ISO or a smaller aperture with more flash",
			*l.AmbientBelow, l.Streak*1e3)
	}
	if e := w.opt.Exposure; e > 0 && c.Sync > 0 && e < c.Sync*0.99 {
		w.say("sync",
			"a shutter time of %g s is shorter than the %g s at which the whole frame sees the flash",
			e, c.Sync)
	}
	if n := l.TripsADay; l.Energy > 0 && w.req.Rig.Limits.DayEnergy > 0 && len(p.Trips) > 0 &&
		n < p.Trips[len(p.Trips)-1].N {
		w.say("day-energy",
			"the rig's day_energy_j allows %d trips a day, fewer than the %d that bring a keeper "+
				"with 95 %% confidence", n, p.Trips[len(p.Trips)-1].N)
	}
}

func (w *work) freezeHint(l light.Light) string {
	for _, h := range l.Heads {
		if h.Freeze > 0 && h.Freeze < h.Power {
			return fmt.Sprintf("%s freezes at %s and then must stand %.0f mm away", h.Name,
				rig.PowerText(h.Freeze), h.FreezeAt*1e3)
		}
	}
	return "no power whose duration is stated freezes it at this magnification; a wider field or " +
		"a shorter flash does"
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
