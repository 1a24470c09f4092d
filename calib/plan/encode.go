package plan

import (
	"math"
	"strconv"

	"leadmark/calib/plan/light"
	"leadmark/calib/plan/reach"
	"leadmark/calib/record"
	"leadmark/calib/rig"
	"leadmark/calib/words"
	"leadmark/fit/unit"
)

// Encode writes a plan as plan.json, indented; the same plan gives the same bytes.
func Encode(p Plan) ([]byte, error) {
	return record.JSON("the plan", NewDocument(p))
}

// NewDocument turns a plan into the units and the roundings of plan.json.
func NewDocument(p Plan) Document {
	r := p.Request
	d := Document{Schema: Schema, Made: r.made(), Rig: r.Rig.Name, Subject: r.Subject.Name,
		LagMS: unit.Significant(r.Lag.Mean*1e3, 6), SpreadMS: unit.Significant(r.Lag.Spread*1e3, 4),
		LagDF:   unit.Significant(r.Lag.DF, 3),
		Assumed: r.Lag.Assumed, DelayMS: unit.Significant(p.Delay*1e3, 9), Draws: r.Options.Draws,
		Seed: r.Options.Seed, Lead: leadEntry(p.Lead), Reach: reachEntry(p.Reach),
		Warnings: WarningEntries(p.Warnings), Cautions: words.Sentences(p.Cautions)}
	if p.Framing != nil {
		d.picture(p)
	}
	if l := p.Light; l != nil {
		d.light(*l)
	}
	if m := p.Moment; m != nil {
		d.Moment = &MomentEntry{unit.Significant(m.At*1e3, 9), mm(m.TripBefore), unit.Significant(m.Delay*1e3, 4),
			mm(m.StandBack), mm(m.SD), [2]float64{mm(m.Interval95[0]), mm(m.Interval95[1])}}
	}
	if b := p.Backdrop; b != nil {
		d.Backdrop = &BackdropEntry{b.Choose, unit.Significant(b.Blue, 3), unit.Significant(b.Green, 3)}
	}
	return d
}

func leadEntry(l reach.Lead) LeadEntry {
	return LeadEntry{mm(l.Mean), mm(l.SD), [2]float64{mm(l.Interval95[0]), mm(l.Interval95[1])}}
}

// reachEntry rounds the box outward, at the place of the error's first digit, so that it still
// holds what it says.
func reachEntry(r reach.Box) ReachEntry {
	step := 1e-3 // mm
	if r.EdgeU > 0 {
		step = max(step, math.Pow(10, math.Floor(math.Log10(r.EdgeU*1e3))))
	}
	out := func(x [2]float64) [2]float64 {
		return [2]float64{unit.Significant(math.Floor(x[0]*1e3/step+1e-6)*step, 9),
			unit.Significant(math.Ceil(x[1]*1e3/step-1e-6)*step, 9)}
	}
	points := func(p [][2]float64) [][2]float64 {
		all := [][2]float64{}
		for _, q := range p {
			all = append(all, [2]float64{mm(q[0]), mm(q[1])})
		}
		return all
	}
	return ReachEntry{r.Probability, unit.Significant(r.ProbabilityU, 2), out(r.Along), out(r.Up),
		out(r.Depth), unit.Significant(r.EdgeU*1e3, 2), points(r.SideView), points(r.TopView)}
}

func (d *Document) picture(p Plan) {
	f, o := p.Framing, p.Focus
	d.FramingEntry = &FramingEntry{FieldMM: [2]float64{mm(f.Field[0]), mm(f.Field[1])},
		Orientation: f.Orientation(), Magnification: unit.Significant(f.Optics.Magnification, 4),
		SubjectDistMM:    unit.Significant(f.Optics.Distance()*1e3, 4),
		SensorDistanceMM: unit.Significant(f.Optics.SensorDistance()*1e3, 4),
		AimMM:            [2]float64{mm(f.Aim[0]), mm(f.Aim[1])}}
	near := unit.Significant(o.Near*1e3, 3)
	d.FocusEntry = &FocusEntry{FNumber: MarkedFNumber(o.Optics.FNumber),
		DepthOfField: []*float64{finite(o.Far*1e3, 3), &near},
		DepthNeeded:  &[2]float64{-mm(o.Depth), mm(o.Depth)}}
	d.Blur = blurEntry(*o)
	d.Chance = chanceEntry(*p.Chance)
	for _, t := range p.Trips {
		if d.Trips == nil {
			d.Trips = map[string]int{}
		}
		if t.N > 0 {
			d.Trips[strconv.FormatFloat(t.Confidence, 'f', 2, 64)] = t.N
		}
	}
	for _, c := range p.Changes {
		d.Changes = append(d.Changes, ChangeEntry{words.Sentence(c.Note), chanceDigits(c.Keeper),
			chanceDigits(c.Gain)})
	}
}

func blurEntry(f Focus) *BlurEntry {
	b, um := f.Blur, func(x float64) float64 { return unit.Significant(x*1e6, 3) }
	e := &BlurEntry{DiffractionUM: um(b.Diffraction), DefocusUM: um(b.Defocus),
		TotalUM: um(b.Total), TotalPrintMM: unit.Significant(b.Total*f.Print*1e3, 2),
		PrintMM: unit.Significant(f.PrintLong*1e3, 4), LimitUM: um(f.Limit)}
	px := func(x float64) *float64 {
		if f.PixelPitch == 0 {
			return nil
		}
		y := unit.Significant(x/f.PixelPitch, 2)
		return &y
	}
	if b.Frozen {
		x := um(b.Motion)
		e.MotionUM, e.MotionPX = &x, px(b.Motion)
	}
	e.TotalPX = px(b.Total)
	if f.PixelPitch > 0 {
		x := um(b.Pixel)
		e.PixelUM = &x
	}
	return e
}

func chanceEntry(c Chance) *ChanceEntry {
	get := func(s *reach.Share) *float64 {
		if s == nil {
			return nil
		}
		x := chanceDigits(s.P)
		return &x
	}
	return &ChanceEntry{get(c.InField), get(c.InFocus), get(c.Frozen), get(c.Keeper), get(c.AtMost),
		Clips{chanceDigits(c.Clips[0].P), chanceDigits(c.Clips[1].P), chanceDigits(c.Clips[2].P),
			chanceDigits(c.Clips[3].P)}}
}

// chanceDigits keeps what 100 000 trips and the inputs support: a tenth of a per cent.
func chanceDigits(p float64) float64 { return math.Round(p*1e3) / 1e3 }

func (d *Document) light(l light.Light) {
	d.AmbientBelow = nil
	if a := l.AmbientBelow; a != nil {
		d.AmbientBelow = finite(*a, 2)
	}
	e := &ExposureEntry{ISO: light.MarkedISO(l.ISO), NeededFNumber: unit.Significant(l.NeededFNumber, 3),
		EffectiveFNumber: unit.Significant(l.FNumber, 3), OverStops: hundredths(l.Over),
		EnergyJ: unit.Significant(l.Energy, 2), RecycleS: unit.Significant(l.Recycle, 2), TripsADay: l.TripsADay}
	if l.Exposure > 0 {
		e.ShutterS = finite(l.Exposure, 4)
	}
	if l.FNumber > 0 {
		d.Exposure = e
	}
	for _, h := range l.Heads {
		d.Flash = append(d.Flash, flashEntry(h))
	}
}

func flashEntry(h light.Head) FlashEntry {
	e := FlashEntry{Name: h.Name, Lights: string(h.Lights), Missing: h.Missing}
	if len(h.Missing) > 0 {
		return e
	}
	e.Power, e.EffectiveFNumber = rig.PowerText(h.Power), finite(h.FNumber, 3)
	over, ratio := hundredths(h.Over), hundredths(h.Ratio)
	e.OverStops, e.RatioStops = &over, &ratio
	switch f := h.Flash; {
	case f == nil:
	case f.Bound:
		e.T05US = finite(f.T05*1e6, 4)
	default:
		e.T01US = finite(f.T01*1e6, 4)
	}
	if h.Freeze > 0 {
		e.FreezePower, e.FreezeDistanceMM = rig.PowerText(h.Freeze), finite(h.FreezeAt*1e3, 3)
	}
	return e
}

func hundredths(x float64) float64 { return math.Round(x*100) / 100 }

// mm turns metres into millimetres, to a hundredth or four digits, whichever is coarser.
func mm(x float64) float64 {
	y := math.Round(x*1e5) / 1e2
	if math.Abs(y) >= 100 {
		return unit.Significant(y, 4)
	}
	return y + 0 // no -0
}

// finite is nil for a number without end.
func finite(x float64, n int) *float64 {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return nil
	}
	y := unit.Significant(x, n)
	return &y
}
