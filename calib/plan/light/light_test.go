package light

import (
	"math"
	"testing"

	"leadmark/calib/rig"
	"leadmark/testdata"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

// Guide number = distance x f-number at ISO 100 (ISO 1230:1992). Published examples: GN 45 m at 5 m
// is f/9 (a dictionary of photography); GN 80 ft at 20 ft f/4 and at 10 ft f/8, and GN 118 ft at 10
// ft f/11.8 (two encyclopedias); GN 45 at 1/16 and ISO 400 is 22.5 (computed: 45 sqrt(1/16)
// sqrt(400/100)). The unit of length cancels.
func TestGuideNumber(t *testing.T) {
	f := func(gn, power, iso, distance float64) float64 {
		return flashFNumber(rig.Head{GuideNumber: gn}, power, iso, distance)
	}
	near(t, "GN 45 at 5", f(45, 1, 100, 5), 9, 1e-12)
	near(t, "GN 80 at 20", f(80, 1, 100, 20), 4, 1e-12)
	near(t, "GN 80 at 10", f(80, 1, 100, 10), 8, 1e-12)
	near(t, "GN 118 at 10", f(118, 1, 100, 10), 11.8, 1e-12)
	near(t, "GN 45, 1/16, ISO 400, at 1", f(45, 1.0/16, 400, 1), 22.5, 1e-12)
	// Doubling the distance is two stops (inverse square); half the power one stop (common
	// practice, no source).
	near(t, "inverse square", stopsOver(f(40, 1, 100, 1), f(40, 1, 100, 2)), 2, 1e-12)
	near(t, "half the power", stopsOver(f(40, 1, 100, 1), f(40, 0.5, 100, 1)), 1, 1e-12)
	near(t, "a stop of gel", stopsOver(f(40, 1, 100, 1),
		flashFNumber(rig.Head{GuideNumber: 40, Loss: 1}, 1, 100, 1)), 1, 1e-12)
}

// APEX (D. Kerr, APEX, issue 7, 2007): f/1 1.4 2 2.8 4 5.6 8 11 16 22 32 are Av 0 to 10; 1 s to
// 1/1000 s Tv 0 to 10; ISO 100 is Sv 5, so that EV = Av + Tv at ISO 100. Ambient light of EV 12 at
// f/8 and 1/125 s (Av 6 + Tv 6.965784, computed from Av = 2 log2 N, Tv = -log2 t) is 0.965784 stops
// below a flash exposed right.
func TestAPEX(t *testing.T) {
	for av, n := range []float64{1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 16, 22, 32} {
		if got := stopsOver(n, 1); math.Abs(got-float64(av)) > 0.09 { // the marks are roundings
			t.Errorf("f/%g is Av %.3f, want %d", n, got, av)
		}
	}
	near(t, "Av(5.6)", stopsOver(5.6, 1), 4.970854, 1e-6)
	near(t, "Av(11)", stopsOver(11, 1), 6.918863, 1e-6)
	l := Light{ISO: 100, NeededFNumber: 8}
	near(t, "EV 12 at f/8, 1/125 s", ambient(&l, 12, 1.0/125), 0.965784, 1e-5)
	l = Light{ISO: 400, NeededFNumber: 8}
	// two stops more sensitive, light two stops less
	near(t, "at ISO 400", ambient(&l, 10, 1.0/125), 0.965784, 1e-5)
}

func ambient(l *Light, ev100, exposure float64) float64 {
	l.Ambient(ev100, exposure)
	return *l.AmbientBelow
}

// Blur of motion is speed times duration times magnification: 3 m/s, 1/10000 s, m 0.5: 0.150 mm on
// the sensor; 7.5 m/s, 50 us, m 0.2: 0.075 mm; 2 m/s, 50 us, 1:1: 0.100 mm.
func TestMotionBlur(t *testing.T) {
	near(t, "3 m/s", MotionBlur(3, 1e-4, 0.5), 0.150e-3, 1e-12)
	near(t, "7.5 m/s", MotionBlur(7.5, 50e-6, 0.2), 0.075e-3, 1e-12)
	near(t, "2 m/s", MotionBlur(2, 50e-6, 1), 0.100e-3, 1e-12)
}

// table is a head's durations from the powers they are for.
func table(us map[float64]float64) []rig.Duration {
	var all []rig.Duration
	for p, d := range us {
		all = append(all, rig.Duration{Power: p, Seconds: d * 1e-6})
	}
	return all
}

func key(power float64) rig.Head {
	return rig.Head{Name: "key", Lights: rig.Subject, GuideNumber: 40, Distance: 0.3, Loss: 1.5,
		Range: [2]float64{1, 1.0 / 128}, Power: power,
		T01: table(map[float64]float64{1.0 / 16: 160, 1.0 / 32: 85, 1.0 / 64: 45, 1.0 / 128: 30})}
}

// Lights add in exposure, not in f-numbers: two equal heads are one stop more than one (the sum of
// squares of the f-numbers, since exposure goes as their square: ISO 1230's definition with APEX).
func TestHeadsAddInExposure(t *testing.T) {
	one := For([]rig.Head{key(1.0 / 64)}, 16, 200)
	two := For([]rig.Head{key(1.0 / 64), key(1.0 / 64)}, 16, 200)
	if math.Abs(one.Over) > 0.51 || math.Abs(two.Over) > 0.51 { // whole stops
		t.Errorf("one head gives %.2f stops over, two %.2f", one.Over, two.Over)
	}
	if got := two.Heads[0].Power * 2 / one.Heads[0].Power; math.Abs(math.Log2(got)) > 1 {
		t.Errorf("two heads at %g each, one at %g", two.Heads[0].Power, one.Heads[0].Power)
	}
	sum := math.Hypot(two.Heads[0].FNumber, two.Heads[1].FNumber)
	near(t, "sum", two.FNumber, sum, 1e-12)
}

// The ratio now set between the heads is kept, and a backdrop without a power gets as much light as
// the subject.
func TestRatiosAreKept(t *testing.T) {
	rim := rig.Head{Name: "rim", Lights: rig.Rim, GuideNumber: 40, Distance: 0.3, Loss: 1.5,
		Range: [2]float64{1, 1.0 / 512}, Power: 1.0 / 128}
	back := rig.Head{Name: "back", Lights: rig.Backdrop, GuideNumber: 20, Distance: 0.5,
		Range: [2]float64{1, 1.0 / 512}}
	l := For([]rig.Head{key(1.0 / 64), rim, back}, 22, 200)
	near(t, "rim under the key", l.Heads[1].Ratio, -1, 1e-9)
	if math.Abs(l.Heads[2].Ratio) > 0.51 {
		t.Errorf("the backdrop is %.2f stops from the subject's light", l.Heads[2].Ratio)
	}
	if l.Longest != nil {
		t.Error("the rim's duration is not stated, yet the longest flash is told")
	}
}

// A power outside the range is told in stops; nothing is made up for a duration that is not stated.
func TestRangeAndMissingDurations(t *testing.T) {
	weak := For([]rig.Head{key(0)}, 512, 100).Heads[0]
	if weak.Power != 1 || weak.Short < 1 {
		t.Errorf("%+v", weak)
	}
	if weak.Flash != nil {
		t.Errorf("a duration at full power was made up: %+v", weak.Flash)
	}
	strong := For([]rig.Head{key(0)}, 2, 100).Heads[0]
	if strong.Power != 1.0/128 || strong.Short > -1 {
		t.Errorf("%+v", strong)
	}
	half := key(1.0 / 64)
	half.T01, half.T05 = nil, table(map[float64]float64{1.0 / 64: 54})
	h := For([]rig.Head{half}, flashFNumber(half, 1.0/64, 100, half.Distance), 100).Heads[0]
	if h.Power != 1.0/64 || h.Flash == nil || !h.Flash.Bound {
		t.Fatalf("%+v %+v", h, h.Flash)
	}
	// A pure exponential tail: ln 10 / ln 2 = 3.3219281 (computed).
	near(t, "t0.1 from t0.5", h.Flash.T01, 3.3219281*54e-6, 1e-7)
	bare := For([]rig.Head{{Name: "bare", Lights: rig.Subject}}, 12, 100).Heads[0]
	if len(bare.Missing) != 2 || bare.Power != 0 {
		t.Errorf("%+v", bare)
	}
}

// Durations as published: the power steps of a manual's table are not proportional, so that no
// formula may stand in for the table; the bound from t0.5 holds the measured t0.1.
func TestPublishedDurations(t *testing.T) {
	at := map[string]float64{}
	for _, r := range testdata.Table(t, "camera/flash_durations.csv") {
		at[r["flash"]+" "+r["quantity"]+" "+r["power"]] = testdata.Number(t, "flash_durations.csv",
			r["seconds"])
	}
	for _, p := range []string{"1/32", "1/64"} {
		t05, t01 := at["measured t0.5 "+p], at["measured t0.1 "+p]
		power, _ := rig.ParsePower(p)
		h := key(power)
		h.T01, h.T05 = nil, table(map[float64]float64{power: t05 * 1e6})
		l := For([]rig.Head{h}, flashFNumber(h, power, 100, h.Distance), 100)
		f := l.Heads[0].Flash
		if t05 == 0 || t01 == 0 || f == nil || f.T01 < t01 || f.T05 > t01 {
			t.Errorf("at %s: %+v does not hold the measured t0.1 of %g", p, f, t01)
		}
	}
	first, second := at["manual t0.5 1/1"], at["manual t0.5 1/2"]
	if !(second > 0.8*first && second < first) {
		t.Errorf("half the power is %.2f of the duration: the premise of the table is gone",
			second/first)
	}
}

// The longest flash on the subject decides, whatever the order of the heads; the backdrop's does not
// count.
func TestTheLongestFlashDecides(t *testing.T) {
	head := func(lights rig.Lights, t01 float64) rig.Head {
		return rig.Head{Name: "a", Lights: lights, GuideNumber: 40, Distance: 1, T01: []rig.Duration{{Power: 1, Seconds: t01}}}
	}
	a, b, c := head(rig.Subject, 50e-6), head(rig.Subject, 90e-6), head(rig.Backdrop, 900e-6)
	for _, heads := range [][]rig.Head{{a, b, c}, {b, a, c}, {c, b, a}} {
		if l := For(heads, 56, 100); l.Longest == nil || l.Longest.T01 != 90e-6 {
			t.Errorf("%v: the longest is %+v", heads, l.Longest)
		}
	}
}
