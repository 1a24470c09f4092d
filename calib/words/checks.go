package words

// checked is what the checks whether a run has one lag come to: what was found, by the check's name;
// that nothing was; or why the run cannot tell.
func checked() map[string]say {
	all := found()
	for name, nothing := range map[string]string{
		"order":    "no drift over the shooting order shows",
		"pause":    "shots after a pause do not stand out",
		"rest":     "the lag does not show to depend on the time since the shot before",
		"setting":  "no difference between exposure settings shows",
		"two-lags": "the shots look like one population",
	} {
		all[name+"/nothing"] = as(nothing + " (chance of as much in a run with one lag: %s)").chance(0)
		// a finding as a doubt about the estimate
		all["lag-"+name] = as("%s (chance of as much in a run with one lag: %s)").chance(1)
	}
	for which, text := range map[string]string{
		"order/with-settings": "the shooting order cannot be told from the settings: mix heights, speeds or " +
			"delays while shooting",
		"pause/no-times":      "the frames do not say when they were made",
		"pause/few":           "fewer than two shots were made after a pause (of more than %.0f s)",
		"pause/with-settings": "the pauses fall together with the settings: pause within a setting too",
		"rest/no-times":       "the frames do not say when they were made",
		"rest/alike":          "all shots came after nearly the same time",
		"rest/with-settings":  "the times between shots fall together with the settings",
		"setting/alike":       "all shots were made with the same exposure settings",
		"setting/few":         "too few shots share their exposure settings",
		"setting/with-settings": "exposure settings and heights (or speeds, delays) changed together: shoot " +
			"each setting at every height",
		"two-lags/few": "fewer than %d good shots",
	} {
		all[which] = as(text)
	}
	return all
}

// found is a finding with its remedy.
func found() map[string]say {
	const apart = "calibrate with the settings used for the animal, and each other setting as a run of its own"
	return map[string]say{
		"order": as("the lag drifts by %+.2g ms from the first shot to the last (standard uncertainty "+
			"%.1g ms): batteries or flash tiring, the rig warming, or the ruler's guide moving; put in fresh "+
			"batteries, fire a few blanks first, and mix the heights so that a drift does not look like "+
			"a speed").in(milli, milli),
		"pause": as("the first shot after a pause lags %+.2g ms behind the others (standard uncertainty "+
			"%.1g ms): keep camera and flash awake (automatic power-off off), or fire a blank after each "+
			"pause").in(milli, milli),
		"rest": as("the lag changes by %+.2g ms with each doubling of the time since the shot before "+
			"(standard uncertainty %.1g ms): let the flash recharge fully, and keep to one rhythm in the run "+
			"and with the animal").in(milli, milli),
		"setting": as("the lag differs between exposure settings: " + apart),
		"setting/two": as("the lag differs between exposure settings (%q %+.2g ms from %q, standard "+
			"uncertainty %.1g ms): "+apart).in(asItIs, milli, asItIs, milli),
		"two-lags": as("the shots fall into two groups: about %.0f %% lie %+.2g ms from the others, as when "+
			"a shutter or a controller sometimes misses a step; manual focus and exposure, mirror up or live "+
			"view, and an open shutter take such steps out; until then one lag does not describe this "+
			"rig").in(percent, milli),
	}
}
