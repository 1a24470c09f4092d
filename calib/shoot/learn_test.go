package shoot

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"leadmark/calib/input"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/testdata"
)

// R 4.2.2, binom.test. The first is the worked example of its help page, after Conover, Practical
// Nonparametric Statistics (1971), p. 97: Mendel's peas.
func TestBinomialAgainstR(t *testing.T) {
	for _, c := range []struct {
		k, n int
		p    float64
		want float64
	}{{682, 925, 0.75, 0.382491559575}, {27, 31, 0.95, 0.067124042586},
		{5, 8, 0.95, 0.00578821792969}} {
		if got := BinomialP(c.k, c.n, c.p); !(math.Abs(got-c.want) <= 1e-9) {
			t.Errorf("%d of %d at %g: p = %.12g, R has %.12g", c.k, c.n, c.p, got, c.want)
		}
	}
	if BinomialP(0, 0, 0.95) != 1 || BinomialP(3, 3, 1) != 1 || BinomialP(2, 3, 1) != 0 {
		t.Error("the edges of the binomial test")
	}
}

// Printed tables, from memory: S. Siegel, Nonparametric Statistics (1956), table D, the sign test,
// one-tailed chances to three digits; and the 95 % limits of a proportion by Clopper and Pearson as
// in Documenta Geigy, Scientific Tables, in percent to two. R's have all digits.
func TestBinomialAgainstPrintedTables(t *testing.T) {
	allowed := map[string]float64{"sign test": 0.00051, "limits": 0.0051, "binom.test": 1e-6}
	for _, r := range testdata.Table(t, "quality/binomial.csv") {
		number := func(key string) float64 { return testdata.Number(t, r["table"], r[key]) }
		k, n := int(number("k")), int(number("n"))
		got, keys := []float64{BinomialP(k, n, 0.5) / 2}, []string{"low"}
		if r["high"] != "" {
			limits := BinomialInterval(k, n)
			got, keys = []float64{100 * limits[0], 100 * limits[1]}, []string{"low", "high"}
		}
		for i, key := range keys {
			if !(math.Abs(got[i]-number(key)) <= allowed[r["table"]]) {
				t.Errorf("%s, %d of %d: %s is %.10f, the table has %s", r["table"], k, n, key,
					got[i], r[key])
			}
		}
	}
}

// one makes leads into speeds: a lag of one second, no spread, no scatter of heading.
func one() (subject.Subject, predict.Law) {
	return subject.Subject{Motion: subject.Straight}, predict.Law{Mean: 1}
}

// Ten speeds, three of them known only to be beyond 1.75: R 4.2.2 with survival,
// survreg(Surv(c(1.31,0.92,1.44,1.05,1.60,1.22,0.87,1.75,1.75,1.75), c(1,1,1,1,1,1,1,0,0,0)) ~ 1,
// dist = "gaussian"). R does not cut the normal off at zero; here less than 6e-4 of it lies below,
// which shifts the likelihood by 0.006.
func TestCensoredAgainstRSurvival(t *testing.T) {
	l := Leads{Seen: []float64{1.31, 0.92, 1.44, 1.05, 1.60, 1.22, 0.87},
		Beyond: []float64{1.75, 1.75, 1.75}}
	s, law := one()
	f := factors(s, law, 0)
	const mean, sd, value = 1.444868071503, 0.443153213519, -7.124555069796
	moving := math.Erfc(-mean/(sd*math.Sqrt2)) / 2
	if got := l.logLikelihood(f, nil, mean, sd) + 10*math.Log(moving); !(math.Abs(got-value) <= 1e-9) {
		t.Errorf("log likelihood %.12f, R has %.12f", got, value)
	}
	got, err := Learn(l, s, law, 0)
	if err != nil {
		t.Fatal(err)
	}
	if !(math.Abs(got.Speed-mean) <= 0.02) || !(math.Abs(got.MaxLikelihoodSD-sd) <= 0.02) {
		t.Errorf("speed %.5f, standard deviation %.5f; R has %.5f and %.5f", got.Speed,
			got.MaxLikelihoodSD, mean, sd)
	}
}

// Without censoring and spread the interval is the textbook's, mean +- t s/sqrt(n); worked out by
// hand for eight numbers.
func TestUncensoredIntervalIsStudents(t *testing.T) {
	x := []float64{5.1, 4.9, 5.6, 4.7, 5.3, 5.0, 5.4, 5.2}
	s, law := one()
	got, err := Learn(Leads{Seen: x}, s, law, 0)
	if err != nil {
		t.Fatal(err)
	}
	// mean 5.15, s 0.28785, t(7) 2.36462: half width 0.24065
	if !(math.Abs(got.Speed-5.15) <= 1e-3) || !(math.Abs(got.Speed95[0]-4.90935) <= 2e-3) ||
		!(math.Abs(got.Speed95[1]-5.39065) <= 2e-3) || !(math.Abs(got.SpeedSD-0.28785) <= 1e-3) {
		t.Errorf("%+v", got)
	}
}

func TestTooFewLeads(t *testing.T) {
	s, law := one()
	var none *input.NoResult
	if _, err := Learn(Leads{Seen: []float64{1, 2, 3, 4}}, s, law, 0); !errors.As(err, &none) {
		t.Errorf("four leads gave %v", err)
	}
	s.Motion = subject.Hop
	if _, err := Learn(Leads{Seen: []float64{1, 2, 3, 4, 5}}, s, law, 0); !errors.As(err, &none) {
		t.Errorf("a hop gave %v", err)
	}
}

// speedShoot draws a shoot: subject, rig and field anew each time; up to 40 % of the animals have
// left the field. all are the speeds of all of them.
func speedShoot(r *rand.Rand) (l Leads, s subject.Subject, law predict.Law, speed, sd float64, all []float64) {
	s = subject.Subject{Motion: subject.Straight, ElevationSD: 0.14 * r.Float64(),
		AzimuthSD: 0.14 * r.Float64(), Elevation: 0.1}
	speed = 0.5 + 3*r.Float64()
	rel := 0.1 + 0.25*r.Float64()
	sd = rel * speed
	law = predict.Law{Mean: 0.03 + 0.05*r.Float64(), Spread: 0.0003 + 0.002*r.Float64(),
		MeanU: 0.0001 + 0.0003*r.Float64()}
	trueLag := law.Mean + law.MeanU*r.NormFloat64()
	frames, gone := 8+r.IntN(53), 0.4*r.Float64()
	z := -math.Sqrt2 * math.Erfinv(2*gone-1) // the field ends where this share has left it
	if gone < 0.02 {
		z = 6
	}
	field := speed * (1 + rel*z) * law.Mean
	for range frames {
		v := 0.0
		for v <= 0 {
			v = speed * (1 + rel*r.NormFloat64())
		}
		all = append(all, v)
		x := v * (trueLag + law.Spread*r.NormFloat64()) *
			math.Cos(s.Elevation+s.ElevationSD*r.NormFloat64()) *
			math.Cos(s.AzimuthSD*r.NormFloat64())
		if x > field {
			l.Beyond = append(l.Beyond, field)
		} else {
			l.Seen = append(l.Seen, x)
		}
	}
	return l, s, law, speed, sd, all
}

// speeds learns the speed in so many shoots.
func speeds(shoots int, seed uint64) (out learning) {
	r := rand.New(rand.NewPCG(seed, 9))
	for range shoots {
		l, s, law, speed, sd, all := speedShoot(r)
		got, err := Learn(l, s, law, 0)
		out.add(lesson{seen: len(l.Seen), truth: speed, sd: sd, all: all,
			interval: got.Speed95, learnedSD: got.SpeedSD, err: err})
	}
	return out
}

// The short form; LEADMARK_COVERAGE=1 (scripts/learnstudy) runs the shoots of the promise.
func TestSpeedCoverage(t *testing.T) { heldAsPromised(t, speeds) }
