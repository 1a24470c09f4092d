package words

import "maps"

// planned is what is doubtful about a plan, what would change it, and what to be careful of.
func planned() map[string]say {
	all := map[string]say{}
	for _, some := range []map[string]say{
		calibrated(), plannedSubject(), plannedPicture(), plannedHeads(), plannedLight(), changes(), cautions(),
	} {
		maps.Copy(all, some)
	}
	return all
}

// calibrated is what is doubtful about the calibration in force.
func calibrated() map[string]say {
	return map[string]say{
		"calibration-old": as("the calibration is %.0f days old, more than the %g days of recalibrate_days: " +
			"calibrate anew"),
		"calibrations-damaged": as("%d lines of calibrations.jsonl cannot be read; a later calibration may be " +
			"among them"),
	}
}

// plannedSubject doubts the lag, the subject and its way.
func plannedSubject() map[string]say {
	return map[string]say{
		"lag-assumed": as("the lag of %.4g ms and its spread of %.3g ms are assumed, not measured: calibrate the rig "+
			"before an animal is brought in").in(milli, milli),
		"unstated": as("the subject does not state %s; taken as 0, which makes the reach too small if it is "+
			"not").list(0, ", "),
		"speed-not-used": as("speed_mps is not used with a measured course, which has its own speed; how far strikes " +
			"differ from one another in speed is not in the plan"),
		"speed-cut": as("%.2g %% of the stated speeds would be below zero and are drawn again: is speed_sd_mps too " +
			"large?").in(percent),
		"too-slow": as("the rig is too slow to have the nose at %.4g mm: even without added delay it is at %.4g mm "+
			"on average; the beam must stand back by %.3g mm").in(milli, milli, milli),
		"drawing": as("the drawn mean lead of %.4g mm does not agree with its closed form, %.4g mm: draw more "+
			"trips with --draws").in(milli, milli),
	}
}

// plannedPicture doubts framing and focus.
func plannedPicture() map[string]say {
	return map[string]say{
		"no-camera": as("the rig does not state %s, so the field, focus, light and chances cannot be "+
			"planned").list(0, " and "),
		"focal-shortened": as("closest_mm is nearer than four focal lengths, where a simple lens does not focus: yours " +
			"shortens its focal length there; 1:1 is taken as its largest magnification. State " +
			"max_magnification in [lens]"),
		"field-clips": as("a field of %.4g mm holds the whole body in %.0f %% of trips only, less than the %g %% asked "+
			"for").in(milli, percent, percent),
		"closest-focus": as("the reach would fit a smaller field, but the lens goes no closer: at its largest "+
			"magnification of %.3g the field is %.4g mm wide").in(asItIs, milli),
		"too-fast": as("the subject is fast for this rig: the field that holds it is %.0f body lengths wide, and "+
			"the body fills %.1f %% of the picture's width. A shorter lag, less scatter in speed, or a "+
			"lower --probability makes it larger").in(asItIs, percent),
		"no-f-numbers": as("f_numbers in [lens] is not stated: f/%g is what balances best, whether or not the lens has " +
			"it"),
		"f-number": as("f/%g is outside the lens's f/%g to f/%g"),
		"no-pixels": as("pixels in [camera] is not stated: blur is not told in pixels, and the pixel itself is not " +
			"in its budget"),
		"diffraction": as("at f/%g diffraction alone blurs by %.2g µm, more than the %.2g µm that count as sharp on "+
			"this print").in(asItIs, micro, micro),
		"depth-short": as("the subject's depth is more than the depth of field in %.0f %% of trips: narrow the way out " +
			"along the view, accept a smaller print (--print-mm), or ask for the nose alone (focus_on = " +
			"\"nose\")").in(percent),
	}
}

// plannedHeads doubts the flash heads.
func plannedHeads() map[string]say {
	return map[string]say{
		"no-heads":        as("the rig states no [[flash]] head, so neither the light nor freezing can be planned"),
		"head-incomplete": as("%s: the rig does not state %s, so this head is not planned").list(1, ", "),
		"no-duration": as("%s: the rig does not state how long it flashes at %s, so whether the subject is frozen is " +
			"not known; nothing is made up. Measure it, or add it to t01_us"),
		"t01-from-t05": as("%s: only t0.5 is stated at %s; t0.1 is taken as 3.3 times that, as of a flash that dies " +
			"away exponentially. Measured heads have 1.8 to 2 at low power: freezing may be better than " +
			"said"),
		"no-key": as("no head lights the subject (lights = \"subject\"), so the exposure cannot be planned"),
		"uneven-light": as("%s stands %.3g mm away and the reach is %.3g mm long: between its two ends the light may "+
			"differ by up to %.1f stops. Put it further away, or along the shorter side").in(asItIs, milli, milli),
		"too-weak": as("%s lacks %.1f stops even at %s: set a higher ISO or a wider aperture, or put it at %.2g " +
			"times the distance"),
		"too-strong": as("%s is %.1f stops too bright even at %s: set a lower ISO or a smaller aperture, put it at " +
			"%.2g times the distance, or add a gel"),
	}
}

// plannedLight doubts the exposure.
func plannedLight() map[string]say {
	return map[string]say{
		"no-iso": as("iso in [camera] is not stated: powers are for ISO %.0f"),
		"no-exposure": as("the shutter is held open: give how long with --exposure-s to have the light at the set " +
			"reckoned"),
		"no-sync": as("sync_s in [camera] is not stated, so the light at the set is not reckoned"),
		"no-ambient": as("ambient_ev100 in [camera] is not stated, so whether the light at the set leaves a ghost is " +
			"not known"),
		"ambient-ghost": as("the light at the set is only %.1f stops below the flash and may leave a streak of %.2g mm "+
			"on the sensor: darken the set, or set a lower ISO or a smaller aperture with more flash").in(asItIs,
			milli),
		"sync": as("a shutter time of %g s is shorter than the %g s at which the whole frame sees the flash"),
		"day-energy": as("the rig's day_energy_j allows %d trips a day, fewer than the %d that bring a keeper with 95 " +
			"%% confidence"),
		"not-frozen/power": as("the flash of %.3g µs blurs the motion by more than %.2g µm in %.0f %% of trips: %s "+
			"freezes at %s and then must stand %.0f mm away").in(micro, micro, percent, asItIs, asItIs, milli),
		"not-frozen": as("the flash of %.3g µs blurs the motion by more than %.2g µm in %.0f %% of trips: no power "+
			"whose duration is stated freezes it at this magnification; a wider field or a shorter flash "+
			"does").in(micro, micro, percent),
	}
}
