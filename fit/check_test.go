package fit

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/fit/onelag"
	"leadmark/scripts/claim"
	"leadmark/testdata"
)

var alarmRuns = flag.Int("alarm.runs", 0, "simulate this many runs a cell for the false alarms of the checks "+
	"(scripts/coverage alarms)")

// timed gives a run times and settings as a session has them: a shot every 20 to 40 s, now and then
// a pause, two exposure settings, heights mixed.
func timed(run Run, rng *rand.Rand) Run {
	rng.Shuffle(len(run.Shots), func(a, b int) { run.Shots[a], run.Shots[b] = run.Shots[b], run.Shots[a] })
	at := 0.0
	for i := range run.Shots {
		at += 20 + 20*rng.Float64()
		if rng.IntN(5) == 0 {
			at += 300 * rng.Float64()
		}
		s := &run.Shots[i]
		s.Time, s.HasTime, s.Setting = at, true, []string{"1/60 f/11", "1/125 f/11"}[rng.IntN(2)]
	}
	return run
}

// disturb spoils the lag of a run, seconds by shot.
func disturb(run Run, by func(i int) float64) {
	for i := range run.Shots {
		s := &run.Shots[i]
		v := math.Sqrt(2*run.Gravity*s.Drop) + run.Gravity*0.052
		s.Advance += v * by(i)
	}
}

// falseAlarms is how many runs with one lag raised any alarm, and each check its own, and in how many
// fewer than four of the five checks could be made.
func falseAlarms(c cell, runs int, seed uint64) (total, untested int, each map[string]float64) {
	rng := rand.New(rand.NewPCG(seed, c.stream()))
	each = map[string]float64{}
	for k := 0; k < runs; k++ {
		run, _ := simulate(c, rng)
		sol := newLayout(timed(run, rng)).review()
		any, tested := 0, 0
		for _, ch := range sol.checks(sol.identify()) {
			if ch.Alarm {
				each[ch.Name]++
				any = 1
			}
			if ch.Tested {
				tested++
			}
		}
		if tested < 4 {
			untested++
		}
		total += any
	}
	return total, untested, each
}

// The alarms of a run with nothing wrong stay within onelag.Level, in all cells together and up to the
// luck of the simulation in each; and they are not so rare that the checks could find nothing.
func TestChecksFalseAlarms(t *testing.T) {
	runs, seed := 80, uint64(5)
	cells := []cell{{"drop", 2, 6, 3, false, false}, {"drop", 4, 6, 1, true, false},
		{"push", 3, 4, 3, true, false}, {"sweep", 4, 6, 0, false, false}}
	if *alarmRuns > 0 {
		runs, cells = *alarmRuns, alarmGrid()
	}
	var s claim.Study
	alarms, tried, untestedOf := 0, 0, 0
	for _, c := range cells {
		total, untested, each := falseAlarms(c, runs, seed)
		alarms, tried, untestedOf = alarms+total, tried+runs, untestedOf+untested
		rate := float64(total) / float64(runs)
		if *alarmRuns > 0 {
			fmt.Printf("%-6s %d x %2d ratio %4.1f common %-5v any %5.2f %%  order %5.2f pause %5.2f rest "+
				"%5.2f setting %5.2f two-lags %5.2f\n", c.method, c.levels, c.shots, c.ratio, c.common,
				100*rate, 100*each["order"]/float64(runs), 100*each["pause"]/float64(runs),
				100*each["rest"]/float64(runs), 100*each["setting"]/float64(runs),
				100*each["two-lags"]/float64(runs))
		}
		s.Hold(c.label()+" runs with an alarm", claim.Share(total, runs), claim.AtMost(onelag.Level+0.02).Within(0.12))
	}
	s.Hold("runs with an alarm", claim.Share(alarms, tried), claim.Between(0.02, onelag.Level).Within(0.03))
	s.LeftOut("runs in which fewer than four of five checks can be made", untestedOf, tried, mostUntested)
	s.Held(t)
}

// mostUntested is the share of runs that may tell too little for four checks: a third of the cells of
// the long form have 6 to 12 shots.
const mostUntested = 0.5

func alarmGrid() (cells []cell) {
	for _, method := range []string{"drop", "push", "sweep"} {
		for _, k := range []int{2, 4} {
			for _, n := range []int{3, 6, 12} {
				for _, ratio := range []float64{0, 1, 3} {
					cells = append(cells, cell{method, k, n, ratio, k == 4, false})
				}
			}
		}
	}
	return cells
}

// What is really there is found: a drift of 3 ms over the run, 4 ms more after each pause, 1 ms for
// each doubling of the rest, 3 ms between settings, a step of 5 ms missed in one shot of three or
// one of six, each with a spread of 0.8 ms.
func TestChecksFind(t *testing.T) {
	spread := 0.1e-3 / 3.2 * 25
	c := cell{"drop", 3, 8, spread / (0.1e-3 / 3.2), false, false}
	var s claim.Study
	for name, by := range map[string]func(run Run, i int, rng *rand.Rand) float64{
		"order": func(run Run, i int, _ *rand.Rand) float64 { return 3e-3 * float64(i) / float64(len(run.Shots)) },
		"pause": func(run Run, i int, _ *rand.Rand) float64 {
			if i == 0 || run.Shots[i].Time-run.Shots[i-1].Time > 92 {
				return 4e-3
			}
			return 0
		},
		"setting": func(run Run, i int, _ *rand.Rand) float64 {
			if run.Shots[i].Setting == "1/60 f/11" {
				return 3e-3
			}
			return 0
		},
		"rest": func(run Run, i int, _ *rand.Rand) float64 {
			if i == 0 {
				return 0
			}
			return 1e-3 * math.Log2(run.Shots[i].Time-run.Shots[i-1].Time)
		},
		"two-lags": func(_ Run, i int, rng *rand.Rand) float64 { return 5e-3 * float64(1-min(rng.IntN(3), 1)) },
	} {
		found, runs := 0, 20
		rng := rand.New(rand.NewPCG(77, uint64(len(name))))
		for k := 0; k < runs; k++ {
			run, _ := simulate(c, rng)
			run = timed(run, rng)
			disturb(run, func(i int) float64 { return by(run, i, rng) })
			res, err := Lag(run)
			if err != nil {
				t.Fatal(err)
			}
			for _, ch := range res.Checks {
				if ch.Name == name && ch.Alarm {
					if found++; found == 1 {
						t.Log(ch.Note, ch.P)
					}
				}
			}
		}
		s.Hold(name+" found", claim.Share(found, runs), claim.AtLeast(0.7))
	}
	s.Held(t)
}

// Nothing is claimed that the run cannot tell: no times, one setting, heights in blocks of settings.
func TestChecksSayWhatTheyLack(t *testing.T) {
	run, _ := drops(3, []float64{0.2, 0.8}, 4, 0.8e-3)
	for i := range run.Shots {
		if run.Shots[i].Drop > 0.5 {
			run.Shots[i].Setting = "f/16"
		}
	}
	res, err := Lag(run)
	if err != nil {
		t.Fatal(err)
	}
	if len(res.Checks) != 5 {
		t.Fatalf("checks %+v", res.Checks)
	}
	want := map[string]string{"order": "nothing", "pause": "no-times", "rest": "no-times",
		"setting": "with-settings", "two-lags": "nothing"}
	for _, c := range res.Checks {
		tested := want[c.Name] == "nothing"
		if c.Tested != tested || c.Note.Code != c.Name || c.Note.Case != want[c.Name] || c.Alarm {
			t.Errorf("%+v", c)
		}
	}
}

// Two exposure settings are the t test of two samples (pooled): for shots at one speed, exactly read,
// with a known trip place, F = t^2 with n - 2 degrees of freedom.
func TestTwoSettingsAreTTest(t *testing.T) {
	lags := []float64{0.0518, 0.0531, 0.0524, 0.0519, 0.0527, 0.0533, 0.0540, 0.0529, 0.0536, 0.0545}
	run := Run{TripU: ptr(0)}
	var mean, ss [2]float64
	for i, l := range lags {
		mean[i/5] += l / 5
		run.Shots = append(run.Shots, Shot{Speed: 1.5, Advance: 1.5 * l, Setting: []string{"f/11", "f/16"}[i/5]})
	}
	for i, l := range lags {
		ss[i/5] += sq(l - mean[i/5])
	}
	pooled := (ss[0] + ss[1]) / 8
	tt := (mean[1] - mean[0]) / math.Sqrt(pooled*2/5)
	res, err := Lag(run)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range res.Checks {
		if c.Name != "setting" {
			continue
		}
		testdata.Near(t, "effect", c.Effect, mean[1]-mean[0], 1e-6)
		testdata.Near(t, "its u", c.EffectU, math.Sqrt(pooled*2/5), 1e-3)
		testdata.Near(t, "F", c.Statistic, tt*tt, 1e-3)
		testdata.Near(t, "P", c.P, 2*studentTail(tt, 8), 2e-2)
		return
	}
	t.Errorf("no check of settings in %+v", res.Checks)
}

func studentTail(x, df float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Survival(math.Abs(x))
}
