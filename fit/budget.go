package fit

import "math"

// budgets are those of the lag and of the trip offset, as far as both were told.
func (s *solution) budgets(res Result) []Budget {
	var list []Budget
	if res.Lag != nil {
		list = append(list, s.budget(colLag, "lag", "s", res.Lag))
	}
	if res.TripOffset != nil {
		list = append(list, s.budget(colTrip, "trip_offset", "m", res.TripOffset))
	}
	return list
}

// budget takes the variance of unknown j apart. The estimate is linear in every error, K = (X'V^-1X
// + Q)^-1 X'V^-1 its coefficients, so its variance is the sum over independent errors of
// (coefficient x standard uncertainty)^2: the law of propagation, JCGM 100:2008 eq. 10.
func (s *solution) budget(j int, of, unit string, e *Estimate) Budget {
	b := Budget{Of: of, Unit: unit, U: e.U, DF: e.DF}
	k := s.gain(j)
	s.shotLines(&b, k)
	s.heightLines(&b, k)
	s.commonLines(&b, j)
	if more := math.Max(s.Best.Adjust[j*s.P+j], 0) / s.Best.Info; more > 0 {
		b.add(Contribution{Source: "weights", Kind: "A", N: 1, Unit: unit, Input: math.Sqrt(more), Sensitivity: 1})
	}
	total := 0.0
	for _, l := range b.Lines {
		total += l.U * l.U
	}
	for i := range b.Lines {
		b.Lines[i].Share = sq(b.Lines[i].U) / total
	}
	return b
}

// add takes a line in unless it gives nothing.
func (b *Budget) add(c Contribution) {
	if c.U = math.Abs(c.Sensitivity) * c.Input; c.U > 0 {
		b.Lines = append(b.Lines, c)
	}
}

// gain is the row of K for unknown j: what an error of each reading does to it.
func (s *solution) gain(j int) []float64 {
	all, k := s.Gain(s.Best), make([]float64, len(s.R))
	for i := range k {
		k[i] = all[i*s.P+j]
	}
	return k
}

// shotLines adds the errors that differ from shot to shot. A shot weighed down counts with the
// larger variance its weight stands for.
func (s *solution) shotLines(b *Budget, k []float64) {
	shots := s.run.Shots
	kind := "B"
	if s.Best.Shrink < 1 {
		kind = "A" // as small as the shots' scatter says
	}
	s.shotLine(b, k, Contribution{Source: "reading", Kind: kind, Unit: "m"},
		func(i int) (each, perUnit float64) { return math.Max(shots[i].AdvanceU, minReadU), 1 })
	s.shotLine(b, k, Contribution{Source: "letting-go", Kind: kind, Unit: "m"},
		func(i int) (each, perUnit float64) { return shots[i].DropShotU, s.perHeight(i) })
	s.shotLine(b, k, Contribution{Source: "speed", Kind: kind, Unit: "m/s"},
		func(i int) (each, perUnit float64) {
			if s.groupOf[i] >= 0 || shots[i].Drop > 0 {
				return 0, 0
			}
			return shots[i].SpeedU, s.Theta[colLag] + shots[i].Delay
		})
	s.shotLine(b, k, Contribution{Source: "speed-repeat", Kind: kind, Unit: "1"},
		func(i int) (each, perUnit float64) {
			if s.groupOf[i] < 0 {
				return 0, 0
			}
			return s.run.SpeedRepeat, s.speed(s.Theta, i) * (s.Theta[colLag] + shots[i].Delay)
		})
	b.addSpread(s, k)
}

// shotLine adds one line for errors independent from shot to shot: each their standard uncertainty,
// perUnit what one of them does to its advance.
func (s *solution) shotLine(b *Budget, k []float64, c Contribution, of func(i int) (each, perUnit float64)) {
	variance, squares := 0.0, 0.0
	for i, w := range s.Weight {
		if w <= 0 {
			continue
		}
		each, perUnit := of(i)
		if each == 0 {
			continue
		}
		c.N++
		squares += s.Best.Shrink * each * each
		variance += sq(k[i]*perUnit*each) * s.Best.Shrink / w
	}
	if c.N == 0 {
		return
	}
	c.Input = math.Sqrt(squares / float64(c.N))
	c.Sensitivity = math.Sqrt(variance) / c.Input
	b.add(c)
}

// addSpread adds the rig's own spread.
func (b *Budget) addSpread(s *solution, k []float64) {
	c := Contribution{Source: "spread", Kind: "A", Unit: "s", Input: math.Sqrt(s.Best.T)}
	sum := 0.0
	for i, w := range s.Weight {
		if w > 0 {
			c.N++
			sum += k[i] * k[i] * s.Slope2[i] / w
		}
	}
	c.Sensitivity = math.Sqrt(sum)
	b.add(c)
}

// heightLines adds one line for each stated height.
func (s *solution) heightLines(b *Budget, k []float64) {
	sens, u, drop := make([]float64, s.Blocks), make([]float64, s.Blocks), make([]float64, s.Blocks)
	for i, id := range s.Block {
		if id >= 0 {
			u[id], drop[id] = s.run.Shots[i].DropU, s.run.Shots[i].Drop
			sens[id] -= k[i] * s.Z[i] / u[id]
		}
	}
	for id := range sens {
		b.add(Contribution{Source: "drop-height", Drop: drop[id], Kind: "B", N: 1, Unit: "m",
			Input: u[id], Sensitivity: sens[id]})
	}
}

// commonLines adds what the whole run shares. Raising the stated value by one standard uncertainty
// moves the centre of that column's prior by one unit, and the estimate by C_jc q_c.
func (s *solution) commonLines(b *Budget, j int) {
	line := func(col int, c Contribution) {
		if col < 0 || s.Prior[col] == 0 {
			return
		}
		c.Kind, c.N = "B", 1
		unit := s.Best.Cov[j*s.P+col] * math.Sqrt(s.Prior[col]) // per standard uncertainty
		c.Sensitivity = unit / c.Input
		b.add(c)
	}
	line(s.colCommon, Contribution{Source: "tape", Unit: "m", Input: s.run.DropCommonU})
	line(s.colGrav, Contribution{Source: "gravity", Unit: "m/s^2", Input: s.run.GravityU})
	line(colTrip, Contribution{Source: "trip-place", Unit: "m",
		Input: 1 / math.Sqrt(math.Max(s.Prior[colTrip], 1e-300))})
}

// perHeight is what a unit of height does to the advance of a drop: ds/dh = tau g/v.
func (s *solution) perHeight(i int) float64 {
	if s.run.Shots[i].Drop == 0 {
		return 0
	}
	return (s.Theta[colLag] + s.run.Shots[i].Delay) * s.run.Gravity / s.known[i]
}
