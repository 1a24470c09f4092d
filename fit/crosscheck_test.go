package fit

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// crosschecked are runs that R and SciPy can fit too; the first part of a name says how.
func crosschecked() map[string]Run {
	runs := map[string]Run{}
	add := func(name string, c cell, seed uint64, change func(*Run)) {
		run, _ := simulate(c, rand.New(rand.NewPCG(seed, 71)))
		if change != nil {
			change(&run)
		}
		runs[name] = run
	}
	exact := func(r *Run) { // readings without error: all scatter is spread
		for i := range r.Shots {
			r.Shots[i].AdvanceU = 0
		}
	}
	add("pushes.exact", cell{"push", 4, 5, 10, false, false}, 1, exact)
	add("drops.exact.two", cell{"drop", 2, 6, 10, false, false}, 2, exact)
	add("drops.exact.four", cell{"drop", 4, 4, 10, false, false}, 3, exact)
	add("sweep.exact", cell{"sweep", 4, 4, 10, false, false}, 4, func(r *Run) {
		exact(r)
		r.TripU = ptr(0)
	})
	add("full.drops", cell{"drop", 4, 6, 3, true, false}, 5, nil)
	add("full.drops.two", cell{"drop", 2, 8, 10, true, false}, 6, nil)
	add("full.drops.plain", cell{"drop", 3, 8, 3, false, false}, 7, nil)
	add("full.pushes", cell{"push", 4, 6, 3, false, false}, 8, nil)
	add("york.pushes", cell{"push", 4, 6, 0, true, false}, 9, func(r *Run) {
		for i := range r.Shots {
			r.Shots[i].AdvanceU *= 2 // so that no spread is left and the weights are those stated
		}
	})
	return runs
}

// TestCrosscheckRuns writes the runs with their estimates for scripts/crosscheck/run.
func TestCrosscheckRuns(t *testing.T) {
	dir := os.Getenv("CROSSCHECK_DIR")
	if dir == "" {
		t.Skip("the comparison with R and SciPy is made by scripts/crosscheck/run")
	}
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', 17, 64) }
	table := func(name string, rows [][]string) {
		file, err := os.Create(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		defer file.Close()
		if err := csv.NewWriter(file).WriteAll(rows); err != nil {
			t.Fatal(err)
		}
	}
	estimates := [][]string{{"run", "quantity", "value"}}
	conditions := [][]string{{"run", "gravity", "gravity_u", "drop_common_u"}}
	for name, run := range crosschecked() {
		rows := [][]string{{"advance", "advance_u", "delay", "drop", "drop_u", "drop_shot_u", "speed", "speed_u"}}
		for _, s := range run.Shots {
			var row []string
			for _, v := range []float64{s.Advance, s.AdvanceU, s.Delay, s.Drop, s.DropU, s.DropShotU, s.Speed,
				s.SpeedU} {
				row = append(row, number(v))
			}
			rows = append(rows, row)
		}
		table(name+".csv", rows)
		conditions = append(conditions, []string{name, number(run.Gravity), number(run.GravityU),
			number(run.DropCommonU)})
		for what, v := range figures(t, name, run) {
			estimates = append(estimates, []string{name, what, number(v)})
		}
	}
	table("estimates.csv", estimates)
	table("conditions.csv", conditions)
}

// figures are the estimates compared. Standard uncertainties are those at the estimated spread,
// without Kenward and Roger's addition, which the others do not make.
func figures(t *testing.T, name string, run Run) map[string]float64 {
	res, err := Lag(run)
	if err != nil {
		t.Fatal(name, err)
	}
	if res.Odd != nil {
		t.Fatal(fmt.Errorf("%s: shots called odd: %v", name, res.Odd.Shots))
	}
	out := map[string]float64{"lag": res.Lag.Value, "spread": res.Spread.Value}
	for _, b := range res.Budget {
		v := b.U * b.U
		for _, l := range b.Lines {
			if l.Source == "weights" {
				v -= l.U * l.U
			}
		}
		out[map[string]string{"lag": "u_lag", "trip_offset": "u_trip"}[b.Of]] = math.Sqrt(v)
	}
	if res.TripOffset != nil {
		out["trip"] = res.TripOffset.Value
	}
	if len(res.Speeds) > 0 {
		out["speed"], out["u_speed"] = res.Speeds[0].Value, res.Speeds[0].U
	}
	sol := newLayout(run).review()
	stated := sol.At(0) // variances as stated
	out["york_u_lag"], out["york_u_trip"] = math.Sqrt(stated.Cov[0]), math.Sqrt(stated.Cov[sol.P+1])
	return out
}
