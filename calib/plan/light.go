package plan

import (
	"fmt"
	"math"

	"leadmark/calib/rig"
)

// Light is how the heads are to be set and what comes of it.
type Light struct {
	ISO           float64
	NeededFNumber float64 // the f-number at work, N (1 + m/P), for which the flash must suffice
	Heads         []HeadPlan
	FNumber       float64 // what the heads on the subject give together
	Over          float64 // stops, by which that is more than needed
	Exposure      float64 // s, shutter time; 0 where unknown
	AmbientBelow  *float64
	Streak        float64 // m on the sensor, length of the ambient ghost
	Energy        float64 // J a trip, of the heads that state it; 0 where none does
	Recycle       float64 // s between trips, of the slowest head that states it
	TripsADay     int     // within the rig's daily energy; 0 where it states none
	Longest       *Flash  // the longest flash on the subject; nil where one is unknown
}

// HeadPlan is one head.
type HeadPlan struct {
	Name     string
	Lights   rig.Lights
	Power    float64  // to set; 0 where it cannot be told
	Flash    *Flash   // duration at that power; nil where the rig does not say
	FNumber  float64  // that this head alone gives
	Over     float64  // stops over what is needed, this head alone
	Ratio    float64  // stops over the heads on the subject together
	Missing  []string // keys of rig.toml without which it cannot be planned
	Short    float64  // stops that its range lacks: above 0 too weak, below 0 too strong
	Freeze   float64  // the highest power whose duration freezes; 0 where none does, or none is known
	FreezeAt float64  // m, the distance at which that power gives what this head gives now
}

// Flash is a duration. Times in seconds.
type Flash struct {
	T01   float64 // t0.1, the time above a tenth of the peak (ISO 2827)
	T05   float64 // where only t0.5 is stated
	Bound bool    // T01 is the most it can be given T05
}

// tailRatio is t0.1/t0.5 of a flash that dies away exponentially, ln 10/ln 2. Measured heads cut off early have 1.8 to 2,
// so it bounds t0.1 from above where only t0.5 is stated.
var tailRatio = math.Ln10 / math.Ln2

// flashAt looks a duration up. Between stated powers nothing is made up: the duration is not proportional to the power.
func flashAt(h rig.Head, power float64) *Flash {
	if t := durationAt(h.T01, power); t > 0 {
		return &Flash{T01: t}
	}
	if t := durationAt(h.T05, power); t > 0 {
		return &Flash{T01: t * tailRatio, T05: t, Bound: true}
	}
	return nil
}

func durationAt(table []rig.Duration, power float64) float64 {
	for _, d := range table {
		if math.Abs(math.Log2(d.Power/power)) < 0.02 {
			return d.Seconds
		}
	}
	return 0
}

// flashFNumber is the f-number that a head gives: guide number x sqrt(power x ISO/100) / distance (ISO 1230 defines the
// guide number as distance x f-number at ISO 100), less what softbox and gel take.
func flashFNumber(h rig.Head, power, iso, distance float64) float64 {
	return h.GuideNumber * math.Sqrt(power*iso/100*math.Exp2(-h.Loss)) / distance
}

// stopsOver is by how many stops an exposure for f-number a is more than for b: Av = 2 log2 N (APEX).
func stopsOver(a, b float64) float64 { return 2 * math.Log2(a/b) }

// lack names the keys without which a head cannot be planned.
func lack(h rig.Head) []string {
	var keys []string
	for _, k := range []struct {
		missing bool
		name    string
	}{{h.GuideNumber == 0, "guide_number_m"}, {h.Distance == 0, "distance_mm"}, {h.Lights == "", "lights"}} {
		if k.missing {
			keys = append(keys, k.name)
		}
	}
	return keys
}

// lightFor sets the heads so that those on the subject together give the f-number at work at an ISO. All powers move by as many
// stops, so that the ratios now set are kept; where no power is set, heads on the subject share alike, and rim and backdrop
// get as much light as they together.
func lightFor(heads []rig.Head, needed, iso float64) Light {
	l := Light{ISO: iso, NeededFNumber: needed}
	sum := 0.0
	for _, h := range heads {
		if h.Lights == rig.Subject && len(lack(h)) == 0 {
			sum += sq(flashFNumber(h, setNow(h), iso, h.Distance))
		}
	}
	for _, h := range heads {
		l.Heads = append(l.Heads, headFor(h, needed, iso, sum))
	}
	total := 0.0
	for _, h := range l.Heads {
		if h.Lights == rig.Subject && len(h.Missing) == 0 {
			total += sq(h.FNumber)
		}
	}
	l.FNumber = math.Sqrt(total)
	l.Over = stopsOver(l.FNumber, needed)
	for i := range l.Heads {
		l.Heads[i].Ratio = stopsOver(l.Heads[i].FNumber, l.FNumber)
	}
	l.longest()
	return l
}

func setNow(h rig.Head) float64 {
	if h.Power > 0 {
		return h.Power
	}
	return 1
}

func headFor(h rig.Head, needed, iso, sum float64) HeadPlan {
	p := HeadPlan{Name: headName(h), Lights: h.Lights, Missing: lack(h)}
	if len(p.Missing) > 0 {
		return p
	}
	want := 0.0 // power
	switch {
	case sum > 0 && (h.Lights == rig.Subject || h.Power > 0):
		want = setNow(h) * sq(needed) / sum
	default:
		want = sq(needed / flashFNumber(h, 1, iso, h.Distance))
	}
	p.Power, p.Short = nearestPower(h, want)
	p.Flash = flashAt(h, p.Power)
	p.FNumber = flashFNumber(h, p.Power, iso, h.Distance)
	p.Over = stopsOver(p.FNumber, needed)
	return p
}

func headName(h rig.Head) string {
	if h.Name != "" {
		return h.Name
	}
	return string(h.Lights) + " head"
}

// nearestPower is the power nearest to the wanted one that the head has: whole stops within its range, and those of its
// table of durations. short is by how many stops the range falls short, above 0 where the head is too weak.
func nearestPower(h rig.Head, want float64) (power, short float64) {
	steps := powersOf(h)
	power = steps[0]
	for _, p := range steps {
		if math.Abs(math.Log2(p/want)) < math.Abs(math.Log2(power/want)) {
			power = p
		}
	}
	switch over := math.Log2(want); {
	case want > steps[0]:
		short = over - math.Log2(steps[0])
	case want < steps[len(steps)-1]:
		short = over - math.Log2(steps[len(steps)-1])
	}
	return power, short
}

// powersOf lists the powers a head has, highest first. Where its range is not stated, those whose durations are; where neither
// is, full power alone is sure.
func powersOf(h rig.Head) []float64 {
	high, low := h.Range[0], h.Range[1]
	if high == 0 {
		high, low = 1, 1
		for _, table := range [][]rig.Duration{h.T01, h.T05} {
			for _, d := range table {
				low = min(low, d.Power)
			}
		}
		if h.Power > 0 {
			low = min(low, h.Power)
		}
	}
	all := []float64{high}
	for k := math.Ceil(-math.Log2(high) + 1e-9); math.Exp2(-k) >= low*(1-1e-9); k++ {
		all = append(all, math.Exp2(-k))
	}
	for _, table := range [][]rig.Duration{h.T01, h.T05} {
		for _, d := range table {
			if d.Power <= high*1.0001 && d.Power >= low*0.9999 && !holds(all, d.Power) {
				all = append(all, d.Power)
			}
		}
	}
	if !holds(all, low) {
		all = append(all, low)
	}
	sortDown(all)
	return all
}

func holds(all []float64, x float64) bool {
	for _, y := range all {
		if math.Abs(math.Log2(x/y)) < 0.02 {
			return true
		}
	}
	return false
}

// longest is the longest flash that falls on the subject, on which freezing depends. A head whose duration is not known
// leaves it unknown.
func (l *Light) longest() {
	l.Longest = nil
	for _, h := range l.Heads {
		if h.Lights == rig.Backdrop {
			continue
		}
		if h.Flash == nil {
			l.Longest = nil
			return
		}
		if l.Longest == nil || h.Flash.T01 > l.Longest.T01 {
			l.Longest = h.Flash
		}
	}
}

// at is the light with every power changed by some stops, for the table of changes; ok is false where a head cannot, or its
// duration there is not stated.
func (l Light) longestAt(heads []rig.Head, stops float64) (t01 float64, ok bool) {
	for i, h := range l.Heads {
		if h.Lights == rig.Backdrop {
			continue
		}
		power := h.Power * math.Exp2(stops)
		f := flashAt(heads[i], power)
		if f == nil || !holds(powersOf(heads[i]), power) {
			return 0, false
		}
		t01, ok = max(t01, f.T01), true
	}
	return t01, ok
}

// freeze finds for each head on the subject the highest power whose duration keeps the blur of motion below c, and the distance
// that power needs to give the same light.
func (l *Light) freeze(heads []rig.Head, pace, m, c float64) {
	for i := range l.Heads {
		p := &l.Heads[i]
		if p.Lights == rig.Backdrop || len(p.Missing) > 0 {
			continue
		}
		for _, power := range powersOf(heads[i]) {
			f := flashAt(heads[i], power)
			if f == nil || MotionBlur(pace, f.T01, m) > c {
				continue
			}
			p.Freeze = power
			share := p.FNumber // what it gives now; weaker heads must stand closer for it
			if p.Short > 0 {
				share *= math.Exp2(p.Short / 2)
			}
			p.FreezeAt = flashFNumber(heads[i], power, l.ISO, 1) / share
			break
		}
	}
}

// MotionBlur is how far the picture of the subject moves on the sensor while the flash lasts: speed across the view x t0.1 x m.
func MotionBlur(speed, t01, m float64) float64 { return speed * t01 * m }

// ambient reckons the shutter time's exposure to the light at the set: EV at the settings, N at work, is
// log2(N^2/t) - log2(ISO/100) (APEX), and the ambient is as many stops below the flash as that is above its EV.
func (l *Light) ambient(ev100, exposure float64) {
	below := math.Log2(sq(l.NeededFNumber)/exposure) - math.Log2(l.ISO/100) - ev100 + l.Over
	l.AmbientBelow = &below
}

// energy adds up what a trip takes, as the power's share of what full power takes (common practice, no source).
func (l *Light) energy(heads []rig.Head, day float64) {
	for i, h := range heads {
		l.Energy += h.Energy * l.Heads[i].Power
		l.Recycle = max(l.Recycle, h.Recycle*l.Heads[i].Power)
	}
	if day > 0 && l.Energy > 0 {
		l.TripsADay = int(day / l.Energy)
	}
}

func sq(x float64) float64 { return x * x }

func sortDown(x []float64) {
	for i := range x {
		for j := i; j > 0 && x[j] > x[j-1]; j-- {
			x[j], x[j-1] = x[j-1], x[j]
		}
	}
}

// powerText writes a power as heads do.
func powerText(p float64) string { return rig.PowerText(p) }

// isoText writes an ISO speed as cameras name it.
func isoText(iso float64) string { return fmt.Sprintf("%.0f", MarkedISO(iso)) }
