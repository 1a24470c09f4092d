package record

import (
	"slices"

	"leadmark/calib"
	"leadmark/fit"
	"leadmark/fit/unit"
)

func answerOf(r calib.Result) Answer {
	a := Answer{Schema: Schema, Rig: r.Rig, Determined: determined(r)}
	if e := r.Fit.Lag; e != nil {
		a.Lag = lagEntry(*e)
	}
	if e := r.Fit.Spread; e != nil {
		a.Spread = spreadEntry(*e)
	}
	if n := r.Fit.NextShot; n != nil {
		if i := interval(*n, unit.Decimals((n.High-n.Low)*1e3/4)); i != nil {
			a.NextShot = &NextEntry{*i}
		}
	}
	if e := r.Fit.TripOffset; e != nil {
		p := unit.Decimals(e.U * 1e3)
		a.TripOffset = &OffsetEntry{unit.Fixed(e.Value*1e3, p), unit.Fixed(e.U*1e3, p)}
	}
	if l := r.TripLine; l != nil {
		a.TripLinePX = [][2]float64{pixel(l.A), pixel(l.B)}
	}
	for _, s := range r.Fit.Speeds {
		p := unit.Decimals(s.U)
		a.Speeds = append(a.Speeds, SpeedEntry{s.Group, unit.Fixed(s.Value, p), unit.Fixed(s.U, p)})
	}
	for _, g := range r.Fit.Advance {
		a.Advance = append(a.Advance, advanceEntry(g))
	}
	for _, b := range r.Fit.Budget {
		e := budgetEntry(b)
		e.Drawn = drawnEntry(b.Of, r.Propagation)
		a.Budget = append(a.Budget, e)
	}
	for _, c := range r.Fit.Checks {
		a.Checks = append(a.Checks, checkEntry(c))
	}
	a.Odd, a.ByHand = oddEntry(r), byHandEntry(r)
	return a
}

// determined lists what the run could tell in the order of the format's contract. The trip line
// is known wherever a place in the picture is; the fit knows nothing of pictures.
func determined(r calib.Result) []string {
	list := []string{}
	for _, name := range []string{"lag", "spread", "next_shot", "trip_offset", "trip_line", "speeds", "advance"} {
		if slices.Contains(r.Fit.Determined, name) || name == "trip_line" && r.TripLine != nil {
			list = append(list, name)
		}
	}
	return list
}

func advanceEntry(g fit.AdvanceGroup) AdvanceEntry {
	u := g.SD
	if !(u > 0) {
		u = g.Mean.U
	}
	p := unit.Decimals(u * 1e3)
	e := AdvanceEntry{DelayMS: unit.Stated(g.Delay * 1e3), N: g.N, Group: g.Group,
		MeanMM: unit.Fixed(g.Mean.Value*1e3, p)}
	if g.Drop > 0 {
		e.DropMM = new(unit.Stated(g.Drop * 1e3))
	}
	if g.Speed > 0 {
		e.SpeedMPS = new(unit.Stated(g.Speed))
	}
	if finite(g.SD) && g.N > 1 {
		e.SDMM = new(unit.Fixed(g.SD*1e3, p))
	}
	if g.Tolerance95 != nil {
		e.Tolerance95 = interval(*g.Tolerance95, p)
	}
	return e
}
