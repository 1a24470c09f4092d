package fit

import (
	"math"
	"slices"

	"leadmark/fit/note"
)

// Heights that are advised.
const (
	LowDrop   = 0.05 // m, lower drops take too long to pass the beam cleanly
	FirstDrop = 1.0  // m, highest where a first run is told nothing
)

// adviceShots is the size of the next batch proposed.
const adviceShots = 6

// advice searches a small set of next batches for the one that brings the lag's standard
// uncertainty lowest, by adding it to the fitted design: the information of the enlarged run at the
// estimated spread gives the uncertainty afterwards (Fedorov 1972, c-optimal augmentation).
func (s *solution) advice(know told) []Advice {
	best := Advice{}
	for _, c := range s.candidates(know) {
		c.Shots = adviceShots
		u, ok := s.after(c)
		if !ok {
			continue
		}
		c.ULagAfter = u
		if best.Shots == 0 || u < best.ULagAfter*0.999 {
			best = c
		}
	}
	if best.Shots == 0 {
		return s.cannotTell(know)
	}
	best.Note = note.Of("shoot", "to-tell", best.setting(), best.ULagAfter)
	if know.lag {
		best.Note = note.Of("shoot", "to-better", best.setting(), math.Sqrt(s.Best.Cov[0]), best.ULagAfter)
	}
	return []Advice{best}
}

// setting is what is to be shot.
func (a Advice) setting() note.Note {
	switch {
	case a.Speed > 0:
		return note.Of("shots", "push", a.Shots, a.Speed, a.Delay)
	case a.Drop != 0:
		return note.Of("shots", "drop", a.Shots, a.Drop, a.Delay)
	}
	return note.Of("shots", "more", a.Shots, a.Delay)
}

// candidates are next settings like those shot: heights from half the lowest to one and a half
// times the highest, like speeds, and delays within and a little beyond the sweep.
func (s *solution) candidates(know told) []Advice {
	var drops, speeds, delays []float64
	for _, shot := range s.run.Shots {
		delays = append(delays, shot.Delay)
		switch {
		case shot.Drop > 0:
			drops = append(drops, shot.Drop)
		case shot.Speed > 0:
			speeds = append(speeds, shot.Speed)
		}
	}
	var out []Advice
	base := slices.Min(delays)
	if len(drops) > 0 {
		lo, hi := slices.Min(drops), slices.Max(drops)
		most, tries := math.Max(1.5*hi, FirstDrop),
			[]float64{lo / 2, lo, math.Sqrt(lo * hi), hi, 1.5 * hi, lo / 4, 4 * lo}
		if s.run.MaxDrop > 0 {
			most, tries = s.run.MaxDrop, append(tries, s.run.MaxDrop)
		}
		for _, h := range tries {
			if h = round(h, 100); h >= LowDrop && h <= most {
				out = append(out, Advice{Drop: h, Delay: base})
			}
		}
	}
	if len(speeds) > 0 {
		lo, hi := slices.Min(speeds), slices.Max(speeds)
		for _, v := range []float64{lo / 2, lo, hi, 1.5 * hi} {
			out = append(out, Advice{Speed: round(v, 10), Delay: base})
		}
	}
	if len(out) == 0 && len(s.groups) > 0 {
		lo, hi := base, slices.Max(delays)
		if hi == lo {
			hi = lo + 0.02 // a first step of 20 ms
		}
		if s.run.MaxDelay > 0 {
			hi = math.Min(hi, s.run.MaxDelay)
		}
		for _, d := range []float64{lo, (lo + hi) / 2, hi, hi + (hi-lo)/2} {
			if d = math.Round(d*2000) / 2000; s.run.MaxDelay == 0 || d <= s.run.MaxDelay {
				out = append(out, Advice{Delay: d})
			}
		}
	}
	return out
}

// round goes to the nearest multiple of 1/parts, at least one.
func round(x, parts float64) float64 { return math.Max(math.Round(x*parts), 1) / parts }

// after is the lag's standard uncertainty once the batch is added; ok is false when the lag still
// cannot be told.
func (s *solution) after(a Advice) (u float64, ok bool) {
	run := s.run
	like := s.run.Shots[s.mostLike(a)]
	like.Delay = a.Delay
	if a.Drop > 0 {
		like.Drop, like.Speed = a.Drop, 0
	}
	if a.Speed > 0 {
		like.Speed, like.Drop = a.Speed, 0
	}
	run.Shots = append([]Shot(nil), s.run.Shots...)
	weight := append([]float64(nil), s.Weight...)
	for k := 0; k < a.Shots; k++ {
		run.Shots, weight = append(run.Shots, like), append(weight, 1)
	}
	l := newLayout(run)
	m := l.linearise(s.Theta, weight, s.Best.T, nil)
	if !m.Estimable(colLag) {
		return 0, false
	}
	y := math.Log1p(s.Best.T / m.Unit)
	if s.Best.T == 0 {
		y = s.Best.Y
	}
	pt := m.At(y)
	return math.Sqrt(pt.Cov[0]), pt.OK
}

// mostLike is the shot nearest the proposed setting: its reading uncertainty stands for the new ones.
func (s *solution) mostLike(a Advice) int {
	at, least := 0, math.Inf(1)
	for i, shot := range s.run.Shots {
		d := math.Abs(shot.Drop-a.Drop) + math.Abs(shot.Speed-a.Speed)
		if d < least {
			at, least = i, d
		}
	}
	return at
}

// cannotTell is the advice where no batch of the same kind would give the lag.
func (s *solution) cannotTell(know told) []Advice {
	swept := false
	for _, t := range know.speeds {
		swept = swept || t
	}
	if swept {
		return []Advice{{Note: note.Of("shoot", "trip-place"), Shots: adviceShots}}
	}
	return []Advice{{Note: note.Of("shoot", "two-heights"), Shots: 2 * adviceShots}}
}
