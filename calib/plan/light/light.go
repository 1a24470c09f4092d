package light

import (
	"math"

	"leadmark/calib/rig"
)

// Light is how the heads are to be set and what comes of it.
type Light struct {
	ISO           float64
	NeededFNumber float64 // the f-number at work, N (1 + m/P), for which the flash must suffice
	Heads         []Head
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

// For sets the heads so that those on the subject together give the f-number at work at an ISO. All
// powers move by as many stops, so that the ratios now set are kept; where no power is set, heads
// on the subject share alike, and rim and backdrop get as much light as they together.
func For(heads []rig.Head, needed, iso float64) Light {
	l := Light{ISO: iso, NeededFNumber: needed}
	sum := 0.0
	for _, h := range heads {
		if h.Lights == rig.Subject && len(lack(h)) == 0 {
			sum += square(flashFNumber(h, setNow(h), iso, h.Distance))
		}
	}
	for _, h := range heads {
		l.Heads = append(l.Heads, headFor(h, needed, iso, sum))
	}
	total := 0.0
	for _, h := range l.Heads {
		if h.Lights == rig.Subject && len(h.Missing) == 0 {
			total += square(h.FNumber)
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

// longest is the longest flash that falls on the subject, on which freezing depends. A head whose
// duration is not known leaves it unknown.
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

// at is the light with every power changed by some stops, for the table of changes; ok is false
// where a head cannot, or its duration there is not stated.
func (l Light) LongestAt(heads []rig.Head, stops float64) (t01 float64, ok bool) {
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

// Freeze finds for each head on the subject the highest power whose duration keeps the blur of
// motion below c, and the distance that power needs to give the same light.
func (l *Light) Freeze(heads []rig.Head, pace, m, c float64) {
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

// Ambient reckons the shutter time's exposure to the light at the set: EV at the settings, N at
// work, is log2(N^2/t) - log2(ISO/100) (APEX), and the ambient is as many stops below the flash as
// that is above its EV.
func (l *Light) Ambient(ev100, exposure float64) {
	below := math.Log2(square(l.NeededFNumber)/exposure) - math.Log2(l.ISO/100) - ev100 + l.Over
	l.AmbientBelow = &below
}

// AddEnergy adds up what a trip takes, as the power's share of what full power takes (common
// practice, no source).
func (l *Light) AddEnergy(heads []rig.Head, day float64) {
	for i, h := range heads {
		l.Energy += h.Energy * l.Heads[i].Power
		l.Recycle = max(l.Recycle, h.Recycle*l.Heads[i].Power)
	}
	if day > 0 && l.Energy > 0 {
		l.TripsADay = int(day / l.Energy)
	}
}

// Rescale changes the ISO, and all that follows from it, by a factor.
func (l *Light) Rescale(k float64) {
	l.ISO *= k
	l.FNumber *= math.Sqrt(k)
	l.Over += math.Log2(k)
	for i := range l.Heads {
		h := &l.Heads[i]
		h.FNumber *= math.Sqrt(k)
		h.Over += math.Log2(k)
	}
}

// Short is by how many stops the heads on the subject are too weak.
func (l Light) Short() float64 {
	most := 0.0
	for _, h := range l.Heads {
		if h.Lights == rig.Subject {
			most = max(most, h.Short)
		}
	}
	return most
}
