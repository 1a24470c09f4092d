package words

import (
	"testing"

	"leadmark/fit"
	"leadmark/fit/design"
	"leadmark/fit/note"
)

// Sentences about the lag, plans and shoots whose wording hangs on the values.
func TestSentencesOfTheLag(t *testing.T) {
	drops := note.Of("shots", "drop", 6, 0.05, 0)
	for want, n := range map[string]note.Note{
		"drop the ruler 6 times from 50 mm: the lag's standard uncertainty falls from 0.47 to about 0.26 " +
			"ms": note.Of("shoot", "to-better", drops, 0.47e-3, 0.26e-3),
		"push the ruler 6 times at about 1.5 m/s with 2.5 ms of added delay: the lag can then be told, to a " +
			"standard uncertainty of about 0.3 ms": note.Of("shoot", "to-tell",
			note.Of("shots", "push", 6, 1.5, 2.5e-3), 0.3e-3),
		"1 of 12 shots is odd and weighed down; counted in full, it would make the lag 52.71 ms (+0.40 ms); look " +
			"at this frame, and set use = no with the reason where it is known to be bad": note.Of("odd-shots",
			"frames", note.Of("odd-shots", "told", 1, 12, 0.05271, 0.5e-3, 0.4e-3), 1),
		"2 of 12 shots are odd and weighed down": note.Of("odd-shots", "untold", 2, 12),
		"the front end lies 4.21 mm past where the other shots put it, 13 times what they scatter; a late flash, " +
			"or a wrong height or delay noted": note.Of("odd-shot", "past", 0.00421, 13.2),
		"the shots fall into two groups: about 30 % lie +2 ms from the others, as when a shutter or a controller " +
			"sometimes misses a step; manual focus and exposure, mirror up or live view, and an open shutter take " +
			"such steps out; until then one lag does not describe this rig (chance of as much in a run with one " +
			"lag: below 0.001)": note.New("lag-two-lags", note.New("two-lags", 0.3, 2e-3), 4e-9),
		"the lag differs between exposure settings (\"f/8\" +0.6 ms from \"f/16\", standard uncertainty 0.1 ms): " +
			"calibrate with the settings used for the animal, and each other setting as a run of its own": note.Of(
			"setting", "two", "f/8", 0.6e-3, "f/16", 0.1e-3),
		"the second lag is +0.11 ms from the first (95 % interval -0.47 to +0.69 ms): they agree within the " +
			"margin of 1 ms": note.Of("lags", "agree", 0.11e-3, -0.47e-3, 0.69e-3, 1e-3),
		"2 of 5 calibrations break a rule of the chart: look for what was changed at that time (battery, firmware, " +
			"mode, lens); the limits rest on few calibrations and will still move": note.Of("chart", "few", 5, 2),
		"the flash one stop down, and the ISO one stop up":   note.Of("change", "iso-for-flash", 1),
		"the flash two stops down, and the ISO two stops up": note.Of("change", "iso-for-flash", 2),
		"frames that show no animal: 4 (a, b, c and others; where one was taken of the empty set, name it in " +
			"shoot.toml, as empty = \"a\"); they are taken for animals that had left the picture by the " +
			"flash": note.Of("gone", "no-empty", 4, []string{"a", "b", "c"}),
		"The plan did not hold: 9 of 20 animals were inside the reach, where 80 % were to be expected; chance " +
			"alone gives so odd a number in less than 0.1 % of shoots. Of those outside, 3 are frames that show " +
			"no animal: see the warning gone.": note.New("outside-reach", 9, 20, 0.8, 0.0004, 3),
	} {
		if got := Sentence(n); got != want {
			t.Errorf("%v:\n%s\nwant\n%s", n, got, want)
		}
	}
}

// A schedule says what to shoot, what it gives, and how to go on.
func TestSchedule(t *testing.T) {
	one, six := design.Batch{Drop: 0.05, Shots: 1}, design.Batch{Drop: 0.8, Delay: 3e-3, Shots: 6}
	all := []design.Batch{one, six}
	const what = "drop the ruler once from 50 mm, drop the ruler 6 times from 800 mm with 3 ms of added delay: the " +
		"lag's standard uncertainty then is about 0.25 ms"
	plan := design.Schedule{Possible: true, Batches: all, Stage: all, Shots: 7, ULag: 0.25e-3,
		Spread: 1e-3, UNext: 1.1e-3}
	staged, supposed, alone, far, reached := plan, plan, plan, plan, plan
	staged.Stage = []design.Batch{one}
	supposed.Supposed, supposed.Assumed = true, note.Of("assumed", "drops", 0.8, 0.05, 1e-3, "", 1e-4)
	alone.Possible, alone.Next, alone.SpreadAlone = false, true, true
	far.Possible, far.Limit = false, "tape"
	reached.Reached, reached.ULagNow = true, 0.2e-3
	for want, s := range map[string]design.Schedule{
		what + "; then the goal is reached: stop": plan,
		what + "; shoot 1 of them first and plan again, as the spread is not known well yet, and stop as soon as " +
			"the goal is reached": staged,
		what + "; then plan again, as the spread is not known yet. Assumed: drops of up to 800 mm, a lag of 50 ms " +
			"and a spread of 1 ms, and readings to 0.1 mm; the first shots will tell": supposed,
		what + ", the next shot's 1.1 ms; the goal is out of reach: the spread alone is 1 ms, and no number of " +
			"shots makes the next one surer": alone,
		what + "; the goal is out of reach within these limits: most of what is left comes from the heights' " +
			"common error: measure from the beam with a better tape": far,
		"stop: the lag's standard uncertainty is 0.2 ms, which the goal asks for": reached,
	} {
		if got := Schedule(s); got != want {
			t.Errorf("%s\nwant\n%s", got, want)
		}
	}
}

// Every source of a budget has its name.
func TestContributions(t *testing.T) {
	for _, source := range []string{"reading", "spread", "drop-height", "letting-go", "tape", "gravity", "speed",
		"speed-repeat", "trip-place", "weights"} {
		if c := (fit.Contribution{Source: source}); Contribution(c) == source || limit(source) == "" {
			t.Errorf("%s is not named", source)
		}
	}
	want := "measured speed, shot by shot, as small as the shots' scatter says"
	if got := Contribution(fit.Contribution{Source: "speed", Kind: "A"}); got != want {
		t.Errorf("%s, not %s", got, want)
	}
}
