package planprint

import (
	"fmt"
	"math"

	"leadmark/calib/plan"
	"leadmark/calib/plan/subject"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit/unit"
)

func framingLines(p plan.Plan) []phrase.Line {
	f, c := *p.Framing, *p.Chance
	lines := []phrase.Line{
		line("field", "Field", lengthText(f.Field[0])+" x "+lengthText(f.Field[1]),
			f.Orientation()+"; the body is "+chanceText(f.Fill)+" of its width"),
		line("magnification", "Magnification", magnificationText(f.Optics.Magnification),
			fmt.Sprintf("%s from the sensor plane, %s from the lens (thin lens)",
				lengthText(f.Optics.SensorDistance()), lengthText(f.Optics.Distance()))),
		line("aim", "Aim the middle at", lengthText(f.Aim[0])+" past the trip point", aimHeight(f)+"; "+exitSeen(f)),
		line("clips", "It cuts the body off in", chanceText(1-c.InField.P),
			"of trips"+clipText(c.Clips[0].P, c.Clips[1].P, c.Clips[2].P, c.Clips[3].P)),
	}
	return lines
}

// aimHeight says how high the middle is aimed; less than a hundredth of the field's height is
// level.
func aimHeight(f plan.Framing) string {
	up := f.Aim[1]
	switch {
	case math.Abs(up) < f.Field[1]/100:
		return "level with the middle of the opening"
	case up > 0:
		return lengthText(up) + " above the middle of the opening"
	}
	return lengthText(-up) + " below the middle of the opening"
}

func exitSeen(f plan.Framing) string {
	if left := f.Aim[0] - f.Field[0]/2; left > 0 {
		return "the exit is " + lengthText(left) + " outside the picture"
	}
	return "the exit is in the picture"
}

func clipText(behind, ahead, below, above float64) string {
	if max(behind, ahead, below, above) < 0.0005 {
		return ""
	}
	return fmt.Sprintf(": behind %s, ahead %s, below %s, above %s", chanceText(behind), chanceText(ahead),
		chanceText(below), chanceText(above))
}

func focusLines(p plan.Plan) []phrase.Line {
	f := *p.Focus
	why := "balances defocus, diffraction and the flash's length"
	if f.Stated {
		why = "as asked for"
	}
	far := "without end"
	if !math.IsInf(f.Far, 0) {
		far = lengthText(-f.Far)
	}
	lines := []phrase.Line{
		line("f_number", "Aperture", "f/"+plainNumber(plan.MarkedFNumber(f.Optics.FNumber)),
			fmt.Sprintf("%s; f/%s at work, with the magnification's loss of light", why,
				plainNumber(f.Optics.EffectiveFNumber()))),
		line("depth", "In focus", "from "+lengthText(f.Near)+" before to "+far+" behind",
			"the plane of the trip point; "+depthNeeded(p)),
	}
	b := f.Blur
	parts := fmt.Sprintf("defocus %s, diffraction %s", um(b.Defocus), um(b.Diffraction))
	if b.Frozen {
		parts = "motion " + um(b.Motion) + ", " + parts
	} else {
		parts += ", motion not known"
	}
	if f.PixelPitch > 0 {
		parts += ", pixel " + um(b.Pixel)
	}
	total := um(b.Total)
	if f.PixelPitch > 0 {
		total += " = " + plainNumber(unit.Significant(b.Total/f.PixelPitch, 2)) + " px"
	}
	return append(lines,
		line("blur", "Blur on the sensor", total, "in the middle trip: "+parts),
		line("print", "On a print "+lengthText(f.PrintLong),
			unit.Plain(unit.Significant(b.Total*f.Print, 2), unit.Millimetre),
			fmt.Sprintf("of blur; defocus and motion each count as sharp up to 0.2 mm there (common "+
				"practice), %s on the sensor", um(f.Limit))))
}

func depthNeeded(p plan.Plan) string {
	d := lengthText(p.Focus.Depth)
	if p.Request.Subject.FocusOn == subject.FocusNose {
		return "the nose is within ± " + d + " in " + chanceText(p.Request.Options.Probability) + " of trips"
	}
	return "the whole body is within ± " + d + " in " + chanceText(p.Request.Options.Probability) + " of trips"
}
