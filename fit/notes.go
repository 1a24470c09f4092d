package fit

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/fit/note"
	"leadmark/fit/outlier"
)

// notes explains what is missing and what is doubtful.
func (s *solution) notes(know told, res Result) []note.Note {
	var notes []note.Note
	if !know.lag {
		notes = append(notes, s.whyNoLag(know))
	}
	notes = append(notes, s.oddNotes(know, res)...)
	for _, c := range res.Checks {
		if c.Alarm {
			notes = append(notes, note.New("lag-"+c.Name, c.Note, c.P))
		}
	}
	if p := s.Disagreement(shotsOf(batches(s.run.Shots))); p < outlier.BatchDoubt {
		notes = append(notes, note.New("settings-disagree", p))
	}
	if res.Spread != nil && res.Spread.Value == 0 {
		notes = append(notes, note.New("spread-hidden", res.Spread.Interval95.High))
	}
	if share := s.scatter(); share < 0.01 {
		notes = append(notes, note.New("readings-better", share))
	}
	if len(s.groups) > 0 && s.run.SpeedRepeat == 0 && len(res.Speeds) > 0 && res.Spread != nil {
		notes = append(notes, note.New("speed-repeat"))
	}
	if df := 2 * s.Best.Info; res.Lag != nil && df < 5 {
		notes = append(notes, note.New("few-shots", math.Round(df)))
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

// whyNoLag is what the run lacks to tell the lag.
func (s *solution) whyNoLag(know told) note.Note {
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
		return note.New("no-spare-shot")
	case know.weakLag:
		return note.New("lag-weak")
	case known:
		return note.New("one-speed")
	case group && swept:
		return note.New("trip-unknown")
	}
	return note.New("no-speed")
}

// oddNotes names the odd shots and what they change.
func (s *solution) oddNotes(know told, res Result) []note.Note {
	if res.Odd == nil {
		return nil
	}
	var notes []note.Note
	for _, b := range batches(s.run.Shots) {
		if outlier.Whole(b.shots, s.Odd) {
			notes = append(notes, s.whyBatch(b, know))
		}
	}
	count := len(res.Odd.Shots)
	if with := res.Odd.Lag; res.Lag != nil && with != nil {
		return append(notes, note.Of("odd-shots", "told", count, len(s.Odd), with.Value, with.U, res.Odd.LagChange))
	}
	return append(notes, note.Of("odd-shots", "untold", count, len(s.Odd)))
}

// why says what is odd about shot i.
func (s *solution) why(i int, residual float64) note.Note {
	if residual < 0 {
		return note.Of("odd-shot", "short", -residual, math.Abs(s.Off[i]))
	}
	return note.Of("odd-shot", "past", residual, math.Abs(s.Off[i]))
}

// whyBatch says what is odd about a whole batch, and for drops which height would explain it.
func (s *solution) whyBatch(b batch, know told) note.Note {
	if b.Drop == 0 {
		return note.Of("odd-batch", "setting", len(b.shots))
	}
	if !know.lag {
		return note.Of("odd-batch", "height", len(b.shots), b.Drop)
	}
	mean := 0.0
	for _, i := range b.shots {
		mean += s.run.Shots[i].Advance / float64(len(b.shots))
	}
	tau, g := s.Theta[colLag]+b.Delay, s.run.Gravity
	v := (mean - s.Theta[colTrip] - g*tau*tau/2) / tau
	if v <= 0 {
		return note.Of("odd-batch", "height", len(b.shots), b.Drop)
	}
	return note.Of("odd-batch", "other-height", len(b.shots), b.Drop, v*v/(2*g))
}
