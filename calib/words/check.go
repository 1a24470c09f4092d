package words

import (
	"fmt"
	"maps"
	"strings"

	"leadmark/fit/note"
)

// shot is what a shoot's frames show.
func shot() map[string]say {
	all := shootDoubts()
	maps.Copy(all, shootAdvice())
	return all
}

// shootDoubts is what is doubtful about a shoot as a whole.
func shootDoubts() map[string]say {
	const gone = "; they are taken for animals that had left the picture by the flash"
	const falseTrips = "; no animal seen was fast enough to have left the picture, so they are taken for false trips"
	return map[string]say{
		"several/shoot": as("%d frames show more than one animal: nothing is learned from their leads"),
		"alike/shoot":   as("in %d frames the animal is of nearly the backdrop's colour: use another backdrop"),
		"no-heights": as("heights are not judged: state the middle of the opening in shoot.toml as exit_px = [x, y]; " +
			"the travel must be left or right"),
		"scale": as("the animals are %.1f mm long in the pictures, the subject %.1f mm: is the scale of another "+
			"camera place, or the subject another?").in(milli, milli),
		"other-lens": as("frames taken at a focal length of %.0f mm: %d; the rig's profile has %.4g mm, with which "+
			"framing, focus and light were planned: put the right one into rig.toml, or use the lens that was "+
			"planned with").in(milli, asItIs, milli),
		"older-plan": as("frames taken before the calibration in force was accepted (%s): %d; the shoot was planned " +
			"with an older one, and is held here against the plan as it would be made now"),
		"gone":                 func(n note.Note) string { return bare(n, "") + gone },
		"gone/no-empty":        func(n note.Note) string { return bare(n, nameEmpty(n)) + gone },
		"false-trips":          func(n note.Note) string { return bare(n, "") + falseTrips },
		"false-trips/no-empty": func(n note.Note) string { return bare(n, nameEmpty(n)) + falseTrips },
	}
}

// bare counts the frames without an animal and names some.
func bare(n note.Note, more string) string {
	names := strings.Join(n.List(1), ", ")
	if n.Number(0) > float64(len(n.List(1))) {
		names += " and others"
	}
	return fmt.Sprintf("frames that show no animal: %.0f (%s%s)", n.Number(0), names, more)
}

// nameEmpty says what to do where one of the frames without an animal is no shot of one at all.
func nameEmpty(n note.Note) string {
	first := ""
	if names := n.List(1); len(names) > 0 {
		first = names[0]
	}
	return "; where one was taken of the empty set, name it in shoot.toml, as empty = \"" + first + "\""
}

// shootAdvice is what to change for the next shoot.
func shootAdvice() map[string]say {
	unsharp := func(cause string) say { return as("%d of %d frames are not sharp, most by " + cause + ".") }
	return map[string]say{
		"outside-reach": outsideReach,
		"other-speed/slower": otherSpeed("nearer to", func(n note.Note) string {
			return fmt.Sprintf("add %.1f ms of delay", milli*n.Number(5))
		}),
		"other-speed/less-delay": otherSpeed("further from", func(n note.Note) string {
			return fmt.Sprintf("take %.1f ms off the added delay", milli*n.Number(5))
		}),
		"other-speed/faster": otherSpeed("further from", func(n note.Note) string {
			return fmt.Sprintf("set the beam back by %.1f mm", milli*n.Number(4))
		}),
		"not-sharp/as-planned": as("%d of %d frames are not sharp, about as many as the plan expects, which has "+
			"%.0f %% in focus: nothing is wrong with the focus. What would give more of them, leadmark plan says "+
			"under \"What changes the chance most\".").in(asItIs, asItIs, percent),
		"not-sharp/focus":  unsharp("focus: focus lies elsewhere, or the aperture is too wide for the depth"),
		"not-sharp/motion": unsharp("motion: the flash lasts too long for the speed: use less power, nearer"),
		"not-sharp/shake": unsharp("shake: the camera or the set moved: fix both, and keep other light out of the " +
			"exposure"),
	}
}

// outsideReach says how many animals were inside the reach, how many were expected, and what of that
// rests on frames that show no animal.
func outsideReach(n note.Note) string {
	text := fmt.Sprintf("The plan did not hold: %.0f of %.0f animals were inside the reach, where %.0f %% were to be "+
		"expected; chance alone gives so odd a number in %s of shoots.", n.Number(0), n.Number(1),
		percent*n.Number(2), Percent(n.Number(3)))
	if gone := n.Number(4); gone > 0 {
		text += fmt.Sprintf(" Of those outside, %.0f are frames that show no animal: see the warning gone.", gone)
	}
	return text
}

// otherSpeed says how far aim, beam or delay must move for the speed that was learned.
func otherSpeed(way string, or say) say {
	return func(n note.Note) string {
		return fmt.Sprintf("The animals moved at %.3g m/s (%.3g to %.3g), not at the planned %.3g m/s: aim %.1f mm %s "+
			"the trip point, or %s. --learn writes this to a new subject file to plan with. A lag that is off by the "+
			"same share would look alike: calibrate again if you doubt it.", n.Number(0), n.Number(1), n.Number(2),
			n.Number(3), milli*n.Number(4), way, or(n))
	}
}
