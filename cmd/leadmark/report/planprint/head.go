package planprint

import (
	"fmt"

	"leadmark/calib/plan"
	"leadmark/calib/plan/light"
	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/report/phrase"
)

// Head is the plan in one sentence.
func Head(p plan.Plan) phrase.Headline {
	r := p.Reach
	h := phrase.Headline{Before: subjectName(p) + ": when the flash fires, its nose is",
		Value: aboutMM(p.Lead.Mean, p.Lead.SD) + " past the trip point", After: ""}
	if f := p.Framing; f != nil {
		h.After = fmt.Sprintf("on average; a field of %s x %s holds the whole body in %s of trips.",
			lengthText(f.Field[0]), lengthText(f.Field[1]), chanceText(p.Chance.InField.P))
		return h
	}
	h.After = fmt.Sprintf("on average; a box %s long, %s high and %s deep holds the whole body in %s of trips.",
		lengthText(r.Along[1]-r.Along[0]), lengthText(r.Up[1]-r.Up[0]), lengthText(r.Depth[1]-r.Depth[0]),
		chanceText(r.Probability))
	return h
}

// Settings is what to set, in one sentence; "" where the rig's description does not suffice.
func Settings(p plan.Plan) string {
	if p.Framing == nil {
		return ""
	}
	s := "Set " + cameraSettings(p)
	if p.Light != nil {
		for _, h := range p.Light.Heads {
			if h.Power > 0 {
				s += "; " + h.Name + " " + rig.PowerText(h.Power)
			}
		}
	}
	f := p.Framing
	return s + fmt.Sprintf("; sensor %s from the trip point's plane, aimed %s past the trip point and %s. A "+
		"keeper in %s of trips.", lengthText(f.Optics.SensorDistance()), lengthText(f.Aim[0]), aimHeight(*f),
		chanceOfKeeper(p))
}

// cameraSettings is aperture, ISO, shutter time and delay.
func cameraSettings(p plan.Plan) string {
	set := "f/" + plainNumber(plan.MarkedFNumber(p.Focus.Optics.FNumber))
	if l := p.Light; l != nil {
		set += fmt.Sprintf(", ISO %.0f", light.MarkedISO(l.ISO))
		if l.Exposure > 0 {
			set += ", " + shutterText(l.Exposure)
		}
	}
	if p.Delay > 0 {
		set += ", added delay " + phrase.MS.Stated(p.Delay)
	}
	return set
}

func subjectName(p plan.Plan) string {
	if n := p.Request.Subject.Name; n != "" {
		return n
	}
	return "The subject"
}
