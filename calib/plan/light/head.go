package light

import (
	"cmp"
	"math"
	"slices"

	"leadmark/calib/rig"
)

// Head is one head.
type Head struct {
	Name    string
	Lights  rig.Lights
	Power   float64  // to set; 0 where it cannot be told
	Flash   *Flash   // duration at that power; nil where the rig does not say
	FNumber float64  // that this head alone gives
	Over    float64  // stops over what is needed, this head alone
	Ratio   float64  // stops over the heads on the subject together
	Missing []string // keys of rig.toml without which it cannot be planned
	Short   float64  // stops that its range lacks: above 0 too weak, below 0 too strong
	// the highest power whose duration freezes; 0 where none does, or none is known
	Freeze   float64
	FreezeAt float64 // m, the distance at which that power gives what this head gives now
}

// flashFNumber is the f-number that a head gives: guide number x sqrt(power x ISO/100) / distance
// (ISO 1230 defines the guide number as distance x f-number at ISO 100), less what softbox and gel
// take.
func flashFNumber(h rig.Head, power, iso, distance float64) float64 {
	return h.GuideNumber * math.Sqrt(power*iso/100*math.Exp2(-h.Loss)) / distance
}

// lack names the keys without which a head cannot be planned.
func lack(h rig.Head) []string {
	var keys []string
	for _, k := range []struct {
		missing bool
		name    string
	}{{h.GuideNumber == 0, "guide_number_m"}, {h.Distance == 0, "distance_mm"},
		{h.Lights == "", "lights"}} {
		if k.missing {
			keys = append(keys, k.name)
		}
	}
	return keys
}

func setNow(h rig.Head) float64 {
	if h.Power > 0 {
		return h.Power
	}
	return 1
}

func headFor(h rig.Head, needed, iso, sum float64) Head {
	p := Head{Name: headName(h), Lights: h.Lights, Missing: lack(h)}
	if len(p.Missing) > 0 {
		return p
	}
	want := 0.0 // power
	switch {
	case sum > 0 && (h.Lights == rig.Subject || h.Power > 0):
		want = setNow(h) * square(needed) / sum
	default:
		want = square(needed / flashFNumber(h, 1, iso, h.Distance))
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

// nearestPower is the power nearest to the wanted one that the head has: whole stops within its
// range, and those of its table of durations. short is by how many stops the range falls short,
// above 0 where the head is too weak.
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

// powersOf lists the powers a head has, highest first. Where its range is not stated, those whose
// durations are; where neither is, full power alone is sure.
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
	slices.SortFunc(all, func(a, b float64) int { return cmp.Compare(b, a) })
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

func square(x float64) float64 { return x * x }

// stopsOver is by how many stops an exposure for f-number a is more than for b: Av = 2 log2 N
// (APEX).
func stopsOver(a, b float64) float64 { return 2 * math.Log2(a/b) }
