package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/fit/outlier"
	"leadmark/fit/unit"
)

// notes explains what is missing and what is doubtful.
func (s *solution) notes(know told, res Result) []Note {
	var notes []Note
	add := func(code, format string, args ...any) {
		notes = append(notes, Note{code, fmt.Sprintf(format, args...)})
	}
	if !know.lag {
		code, text := s.whyNoLag(know)
		add(code, "%s", text)
	}
	s.oddNotes(know, res, add)
	for _, c := range res.Checks {
		if c.Alarm {
			add("lag-"+c.Name, "%s (chance of as much in a run with one lag: %s)", c.Text, unit.Chance(c.P))
		}
	}
	if p := s.Disagreement(shotsOf(batches(s.run.Shots))); p < outlier.BatchDoubt {
		add("settings-disagree", "the settings (heights, speeds or delays) disagree with one another by "+
			"more than the scatter within them (chance of it %s): one may be noted wrongly, or their "+
			"uncertainty is larger than stated; a fourth setting would tell which", unit.Chance(p))
	}
	if res.Spread != nil && res.Spread.Value == 0 {
		add("spread-hidden", "the readings scatter no more than their own uncertainty explains: the "+
			"spread lies below %.2g ms, how far below cannot be told; sharper readings or faster drops "+
			"would", 1e3*res.Spread.Interval95.High)
	}
	if share := s.scatter(); share < 0.01 {
		add("readings-better", "the readings agree better than their stated uncertainties allow (chance "+
			"of it %s): those uncertainties are probably too large", unit.Chance(share))
	}
	if len(s.groups) > 0 && s.run.SpeedRepeat == 0 && len(res.Speeds) > 0 && res.Spread != nil {
		add("speed-repeat", "what a group's speed varies from shot to shot is counted in the spread, as "+
			"speed_repeat is 0")
	}
	if df := 2 * s.Best.Info; res.Lag != nil && df < 5 {
		add("few-shots", "only %.0f shots more than unknowns: the intervals are honest but wide; a few "+
			"more shots narrow them fast", math.Round(df))
	}
	return notes
}

// scatter is the probability of residuals as small as these if the spread were nil and the stated
// uncertainties true (chi-squared, lower tail).
func (s *solution) scatter() float64 {
	df := float64(s.Spare())
	if df < 1 {
		return 1
	}
	return distuv.ChiSquared{K: df}.CDF(s.At(0).Q)
}

func (s *solution) whyNoLag(know told) (code, text string) {
	known, group, swept := false, false, false
	delay := map[string]float64{}
	for i, shot := range s.run.Shots {
		if s.groupOf[i] < 0 {
			known = true
			continue
		}
		group = true
		if first, ok := delay[shot.Group]; ok && first != shot.Delay {
			swept = true
		}
		if _, ok := delay[shot.Group]; !ok {
			delay[shot.Group] = shot.Delay
		}
	}
	switch {
	case know.noSpare:
		return "no-spare-shot", "there are no more shots than unknowns, so nothing tells how far the " +
			"shots scatter and no uncertainty can be given; repeat each setting at least three times"
	case know.weakLag:
		return "lag-weak", "the speeds differ too little, for how well they are known, to tell the lag " +
			"from the trip place; shoot at speeds farther apart, or mark the trip place in the picture"
	case known:
		return "one-speed", "all shots have one speed, so the lag cannot be told from the unknown trip " +
			"place; shoot at a second speed (a drop from four times the height doubles it), or mark the " +
			"trip place in the picture"
	case group && swept:
		return "trip-unknown", "the delay sweep gives the speed, but where the beam trips is not known, " +
			"so the lag is not either; mark the trip place in the picture, or sweep a second group at another speed"
	default:
		return "no-speed", "no speed is known and no delay was stepped, so only the advance itself can " +
			"be told; drop the ruler from two heights, measure the speed, or step the added delay"
	}
}

// oddNotes names the odd shots and what they change.
func (s *solution) oddNotes(know told, res Result, add func(code, format string, args ...any)) {
	if res.Odd == nil {
		return
	}
	count, is, they := len(res.Odd.Shots), "are", "they"
	if count == 1 {
		is, they = "is", "it"
	}
	for _, b := range batches(s.run.Shots) {
		if outlier.Whole(b.shots, s.Odd) {
			add("odd-batch", "%s", s.whyBatch(b, know))
		}
	}
	switch with := res.Odd.Lag; {
	case res.Lag != nil && with != nil:
		p := max(unit.Places(1e3*with.U), 0)
		add("odd-shots", "%d of %d shots %s odd and weighed down; counted in full, %s would make the "+
			"lag %.*f ms (%+.*f ms)", count, len(s.Odd), is, they, p, 1e3*with.Value, p, 1e3*res.Odd.LagChange)
	default:
		add("odd-shots", "%d of %d shots %s odd and weighed down", count, len(s.Odd), is)
	}
}

// twoDigits prints a factor to two digits, without an exponent.
func twoDigits(factor float64) string {
	return unit.Decimal(unit.Fixed(factor, max(unit.Places(factor), 0)))
}

// why says in a sentence what is odd about shot i.
func (s *solution) why(i int, residual float64) string {
	what := "lies %.3g mm past where"
	if residual < 0 {
		what = "lies %.3g mm short of where"
	}
	text := fmt.Sprintf("the front end "+what+" the other shots put it, %s times what they scatter",
		1e3*math.Abs(residual), twoDigits(math.Abs(s.Off[i])))
	if residual < 0 {
		return text + "; a trip before the ruler came, or a ruler that stuck"
	}
	return text + "; a late flash, or a wrong height or delay noted"
}

// whyBatch says what is odd about a whole batch, and for drops which height would explain it.
func (s *solution) whyBatch(b batch, know told) string {
	text := fmt.Sprintf("all %d shots of one setting", len(b.shots))
	if b.Drop == 0 {
		return text + " disagree with the rest alike; check the delay, speed or group noted for them"
	}
	text = fmt.Sprintf("all %d drops noted as %.4g mm disagree with the rest alike", len(b.shots), 1e3*b.Drop)
	if !know.lag {
		return text + "; check the height noted for them"
	}
	mean := 0.0
	for _, i := range b.shots {
		mean += s.run.Shots[i].Advance / float64(len(b.shots))
	}
	tau, g := s.Theta[colLag]+b.Delay, s.run.Gravity
	v := (mean - s.Theta[colTrip] - g*tau*tau/2) / tau
	if v <= 0 {
		return text + "; check the height noted for them"
	}
	return fmt.Sprintf("%s; a drop of about %.3g mm would explain them", text, 1e3*v*v/(2*g))
}
