package words

import (
	"fmt"
	"maps"

	"leadmark/fit/note"
	"leadmark/fit/unit"
)

// lag is what the estimate of the lag leaves open.
func lag() map[string]say {
	all := map[string]say{}
	for _, some := range []map[string]say{unknown(), doubted(), odd(), checked(), advised(), compared()} {
		maps.Copy(all, some)
	}
	return all
}

// unknown is what a run lacks to tell the lag.
func unknown() map[string]say {
	return map[string]say{
		"no-spare-shot": as("there are no more shots than unknowns, so nothing tells how far the shots " +
			"scatter and no uncertainty can be given; repeat each setting at least three times"),
		"lag-weak": as("the speeds differ too little, for how well they are known, to tell the lag from the " +
			"trip place; shoot at speeds farther apart, or mark the trip place in the picture"),
		"one-speed": as("all shots have one speed, so the lag cannot be told from the unknown trip place; " +
			"shoot at a second speed (a drop from four times the height doubles it), or mark the trip place " +
			"in the picture"),
		"trip-unknown": as("the delay sweep gives the speed, but where the beam trips is not known, so the " +
			"lag is not either; mark the trip place in the picture, or sweep a second group at another speed"),
		"no-speed": as("no speed is known and no delay was stepped, so only the advance itself can be told; " +
			"drop the ruler from two heights, measure the speed, or step the added delay"),
	}
}

// doubted is what is doubtful about an estimate.
func doubted() map[string]say {
	return map[string]say{
		"settings-disagree": as("the settings (heights, speeds or delays) disagree with one another by more " +
			"than the scatter within them (chance of it %s): one may be noted wrongly, or their uncertainty " +
			"is larger than stated; a fourth setting would tell which").chance(0),
		"spread-hidden": as("the readings scatter no more than their own uncertainty explains: the spread " +
			"lies below %.2g ms, how far below cannot be told; sharper readings or faster drops " +
			"would").in(milli),
		"readings-better": as("the readings agree better than their stated uncertainties allow (chance of " +
			"it %s): those uncertainties are probably too large").chance(0),
		"speed-repeat": as("what a group's speed varies from shot to shot is counted in the spread, as " +
			"speed_repeat is 0"),
		"few-shots": as("only %.0f shots more than unknowns: the intervals are honest but wide; a few more " +
			"shots narrow them fast"),
	}
}

// odd is said of shots that do not follow the others.
func odd() map[string]say {
	return map[string]say{
		"odd-shot/past": func(n note.Note) string {
			return oddShot("past", n) + "; a late flash, or a wrong height or delay noted"
		},
		"odd-shot/short": func(n note.Note) string {
			return oddShot("short of", n) + "; a trip before the ruler came, or a ruler that stuck"
		},
		"odd-batch/setting": as("all %d shots of one setting disagree with the rest alike; check the delay, " +
			"speed or group noted for them"),
		"odd-batch/height": as("all %d drops noted as %.4g mm disagree with the rest alike; check the height "+
			"noted for them").in(asItIs, milli),
		"odd-batch/other-height": as("all %d drops noted as %.4g mm disagree with the rest alike; a drop of "+
			"about %.3g mm would explain them").in(asItIs, milli, milli),
		"odd-shots/untold": weighedDown,
		"odd-shots/told":   oddLag,
	}
}

// oddShot is how far a shot is off, and how often what the others scatter.
func oddShot(where string, n note.Note) string {
	return fmt.Sprintf("the front end lies %.3g mm %s where the other shots put it, %s times what they scatter",
		milli*n.Number(0), where, twoDigits(n.Number(1)))
}

// weighedDown counts the odd shots.
func weighedDown(n note.Note) string {
	are := "are"
	if n.Number(0) == 1 {
		are = "is"
	}
	return fmt.Sprintf("%.0f of %.0f shots %s odd and weighed down", n.Number(0), n.Number(1), are)
}

// oddLag is weighedDown with the lag, its standard uncertainty and its change with every shot counted
// in full.
func oddLag(n note.Note) string {
	they := "they"
	if n.Number(0) == 1 {
		they = "it"
	}
	p := max(unit.Places(milli*n.Number(3)), 0)
	return weighedDown(n) + fmt.Sprintf("; counted in full, %s would make the lag %.*f ms (%+.*f ms)", they,
		p, milli*n.Number(2), p, milli*n.Number(4))
}
