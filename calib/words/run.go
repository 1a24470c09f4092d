package words

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"leadmark/calib/runfile"
	"leadmark/fit/note"
	"leadmark/fit/unit"
)

// run is what the shots of a run may be refused, left out or warned of for.
func run() map[string]say {
	all := map[string]say{}
	for _, some := range []map[string]say{shotOut(), slate(), frontEnd(), flash(), cameraMoved(), byHand(), wholeRun(),
		twin(), vary()} {
		maps.Copy(all, some)
	}
	return all
}

// shotOut is why a frame is no shot of the run.
func shotOut() map[string]say {
	return map[string]say{
		"left-out":           as("left out by hand: %s"),
		"no-conditions":      as("neither shots.csv nor run.toml states drop_mm for it"),
		"no-reading/empty":   as("advance_mm is empty"),
		"no-reading/missing": as("the readings made by hand do not have it"),
		"not-listed": as(runfile.ShotsFileName + " does not list it, and run.toml states no %s that holds " +
			"for every frame"),
		"not-listed/run":      as("shots.csv does not list every frame of the folder; add a line for each that is a shot"),
		"set-aside":           as("set aside by hand: %s"),
		"set-aside/no-reason": as("set aside by hand, no reason given"),
		"still":               as("shows the trip place"),
		"two-rulers/which":    as("%s; take the other ruler out of the picture"),
	}
}

// slate is what a slate in a frame says, or leaves open.
func slate() map[string]say {
	return map[string]say{
		"slate": func(n note.Note) string {
			return "shows the slate for the shots behind it: " + strings.Join(n.List(0), " ")
		},
		"slate/doubt":  as("shows a slate, but %s"),
		"slate/unread": as("its symbol cannot be read"),
		"slate/wrong":  as("%s"),
		"slate-unread": as("the slate in %s lies before it, but %s; state the conditions in " + runfile.ShotsFileName),
		"slate-disagrees": as("%s in " + runfile.ShotsFileName + " is not what the slate in %s says; " +
			runfile.ShotsFileName + " was followed"),
	}
}

// frontEnd is what a run's frames leave open of the front end and of the trip line.
func frontEnd() map[string]say {
	return map[string]say{
		"before-trip": as("the front end lies %.1f mm before the trip line: a false trip, or the " +
			"line is placed wrongly").in(-milli),
		"front-not-visible/frame": as("the ruler's front end is not in the picture"),
		"front-not-visible/run": as("the ruler's front end is in no picture of the run; state front_mm, its " +
			"reading: 0 where the strip was glued flush"),
		"front-offset": as("the front end lies %+.1f mm from where front_mm puts it on the ruler's " +
			"own scale; measure the end of the ruler and correct front_mm").in(milli),
		"no-ruler/marked": as("no row of graduations lies along the line drawn by hand; draw it over the " +
			"graduations themselves"),
		"one-place": as("the ruler stands in the same place in all frames: the rig is as steady as that, or a " +
			"ruler that lies still was read and the one that moves is in no picture; a frame without the ruler, " +
			"or from another height or speed, tells"),
		"off-track": as("the ruler lies along the trip line instead of across it"),
	}
}

// cameraMoved is what a move of the camera did to the frames behind it.
func cameraMoved() map[string]say {
	return map[string]say{
		"camera-moved/from": func(n note.Note) string {
			return fmt.Sprintf("from %s on the picture lies %s of where most frames have it: the camera was moved",
				n.Text(0), apart(n.Number(1), n.Number(2)))
		},
		"camera-moved/still": func(n note.Note) string {
			return fmt.Sprintf("the picture of the still lies %s of where most frames have it: the camera was moved",
				apart(n.Number(0), n.Number(1)))
		},
		"camera-moved/otherwise": as("parts of the picture moved by up to %.1f px otherwise than in a camera that " +
			"is turned, so the lens was zoomed or the backdrop moved, and the readings are left out"),
		"camera-moved/plain": as("the scene shows too little on both sides of the ruler to tell how the " +
			"camera was turned, so the readings are left out"),
		"camera-moved/unsure": as("that is known only to %.1f px, too little to correct the readings by, so they " +
			"are left out"),
		"camera-moved/refused": as("%s; %s"),
		"camera-moved/left": as("%s; %s. Fix the camera, and shoot these again, or calibrate them as a run of " +
			"their own"),
		"camera-moved/corrected": as("%s; their readings are corrected by that, with a standard uncertainty of " +
			"%.1f px added. Fix the camera before shooting on"),
		"camera-moved/still-corrected": as("%s; the trip place is corrected by that, with a standard uncertainty " +
			"of %.1f px added"),
	}
}

// apart says how far a picture lies from another, px.
func apart(x, y float64) string {
	return fmt.Sprintf("%.1f px %s and %.1f px %s", math.Abs(x), either(x < 0, "left", "right"), math.Abs(y),
		either(y < 0, "up", "down"))
}

func either(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}

// byHand is what a person changed in a run.
func byHand() map[string]say {
	const file = runfile.CorrectionsFileName
	return map[string]say{
		"by-hand/front": as("the front end in these frames was placed by hand, as " + file + " says"),
		"by-hand/ruler": as("the ruler in these frames was looked for where a person marked it, as " + file +
			" says"),
		"by-hand/left-out": as("a person left these frames out, as " + file + " says"),
		"by-hand/trip": func(n note.Note) string {
			return fmt.Sprintf("the trip line was placed by hand, to %s mm, as %s says",
				unit.Decimal(unit.Stated(n.Number(0)*1e3)), file)
		},
		"by-hand-unused/gone": as(file + " speaks of %s, which the folder does not have; take the entries out if " +
			"the frames will not come back"),
		"by-hand-unused/unread": as("these frames were corrected by hand and still cannot be read"),
	}
}

// wholeRun is what is doubtful about a run as a whole.
func wholeRun() map[string]say {
	return map[string]say{
		"exif-doubt": as("what the file says of the camera's settings is not to be relied on: %s"),
		"group-missing": as("these pushes have neither speed_mps nor a group; put the same word in the column " +
			"group for pushes at one repeatable speed"),
		"negative-lag": as("a lag below zero cannot be: the flash would fire before the beam is broken; check " +
			"travel, front_mm, the heights or speeds, and which way the advances are counted"),
		"odd-shots/frames": func(n note.Note) string {
			return n.Text(0) + either(n.Number(1) == 1, "; look at this frame, and set use = no with the "+
				"reason where it is known to be bad", "; look at these frames, and set use = no with the reason "+
				"where one is known to be bad")
		},
		"odd-shots/alone": as("these shots do not follow the others; look at the frames, and set use = no with " +
			"the reason where one is known to be bad"),
		"trip-u-missing": as("the trip place is taken as exact; state u_mm in [trip], its standard uncertainty " +
			"along the track"),
	}
}

// twin is what two flashes in each frame leave open.
func twin() map[string]say {
	return map[string]say{
		"twin-not-seen/run": as("of two flashes only one is seen in these frames, or the two cannot be told apart; " +
			"they are not read, as it is not known which flash shows the ruler. Did both fire, and was the second " +
			"front end still in the picture? Where one flash was meant, take twin_ms out"),
		"twin-disagrees/speed": func(n note.Note) string {
			return fmt.Sprintf("the twin flash measured %s where speed_mps states %.4g m/s; the stated one was "+
				"used: leave speed_mps out to go by the flash, or check twin_ms", speed(n), n.Number(2))
		},
		"twin-disagrees/drop": func(n note.Note) string {
			return fmt.Sprintf("the twin flash measured %s at the trip point, which a fall of %.4g mm gives, where "+
				"drop_mm states %.4g; the stated one was used: check the height, what it is measured to, and twin_ms",
				speed(n), 1e3*n.Number(2), 1e3*n.Number(3))
		},
	}
}

// speed is the speed that a note begins with, to what its standard uncertainty, the next, supports.
func speed(n note.Note) string {
	v, u := n.Number(0), n.Number(1)
	p := max(unit.Places(u), 0)
	return fmt.Sprintf("%.*f m/s (standard uncertainty %.*f)", p, v, p, u)
}

// vary is that a setting is not the same in all frames, and how many have which value.
func vary() map[string]say {
	all := map[string]say{}
	for _, code := range []string{"exposure-time-varies", "f-number-varies", "iso-varies", "focal-length-varies",
		"size-varies", "body-varies"} {
		all[code] = func(n note.Note) string {
			values := slices.Clone(n.List(1))
			for i := range values {
				values[i] += fmt.Sprintf(" (%d)", int(n.Number(2+i)))
			}
			return fmt.Sprintf("frames vary in %s: %s; the lag belongs to one set-up, so calibrate each by itself",
				n.Text(0), strings.Join(values, ", "))
		}
	}
	return all
}
