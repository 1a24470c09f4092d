package fit

import (
	"bufio"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"
)

// nist reads the table at the end of a StRD file: what follows the last line that is not all numbers.
func nist(t *testing.T, name string) (rows [][]float64) {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "..", "shared", "refdata", "nist", name))
	if err != nil {
		t.Skipf("%s is not at hand: %v", name, err)
	}
	defer file.Close()
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		var row []float64
		for _, f := range strings.Fields(lines.Text()) {
			v, err := strconv.ParseFloat(f, 64)
			if err != nil {
				row, rows = nil, nil
				break
			}
			row = append(row, v)
		}
		if len(row) > 0 {
			rows = append(rows, row)
		}
	}
	if len(rows) == 0 {
		t.Fatalf("%s holds no numbers", name)
	}
	return rows
}

// nistGroups reads a set of an analysis of variance: the number of the group, then the value.
func nistGroups(t *testing.T, name string) (groups [][]float64) {
	t.Helper()
	for _, r := range nist(t, name) {
		k := int(r[0]) - 1
		for len(groups) <= k {
			groups = append(groups, nil)
		}
		groups[k] = append(groups[k], r[1])
	}
	return groups
}

// NIST StRD, analysis of variance: certified F. The allowed errors follow the sets' constant leading digits.
func TestOneWayNIST(t *testing.T) {
	for _, c := range []struct {
		name string
		f    float64
		rel  float64
	}{{"SmLs01", 21, 1e-12}, {"SmLs04", 21, 1e-8}, {"SmLs07", 21, 5e-3}, {"AtmWtAg", 15.9467335677930, 1e-8}, {"SiRstv", 1.18046237440255, 1e-12}} {
		v, err := OneWay(nistGroups(t, c.name+".dat"))
		if err != nil {
			t.Fatal(c.name, err)
		}
		near(t, c.name, v.Statistic, c.f, c.rel)
	}
}

// NIST StRD, univariate: certified mean and standard deviation, as advances of one condition are summarised.
func TestSummariseNIST(t *testing.T) {
	for _, c := range []struct {
		name              string
		mean, sd, relMean float64
		rel               float64
	}{{"NumAcc1", 10000002, 1, 1e-15, 1e-15}, {"NumAcc2", 1.2, 0.1, 1e-14, 1e-13}, {"NumAcc3", 1000000.2, 0.1, 1e-15, 1e-9}, {"NumAcc4", 10000000.2, 0.1, 1e-15, 1e-8},
		{"Michelso", 299.852400000000, 0.0790105478190518, 1e-14, 1e-12}, {"Mavro", 2.00185600000000, 0.000429123454003053, 1e-14, 1e-11}, {"Lew", -177.435000000000, 277.332168044316, 1e-13, 1e-13}} {
		var y []float64
		for _, r := range nist(t, c.name+".dat") {
			y = append(y, r[0])
		}
		var g AdvanceGroup
		g.summarise(y, 0)
		near(t, c.name+" mean", g.Mean.Value, c.mean, c.relMean)
		near(t, c.name+" sd", g.SD, c.sd, c.rel)
	}
}

// Bevington, Data Reduction and Error Analysis, table 6.1, and Walpole and Myers, n = 33, as quoted in the GTC test suite
// (MSLNZ/GTC 1c165fce, test/test_type_a.py).
func TestStraightTextbooks(t *testing.T) {
	line := func(name string, xCol, yCol int) Line {
		var x, y []float64
		for _, r := range refdata(t, name) {
			x, y = append(x, r[xCol]), append(y, r[yCol])
		}
		l, err := Straight(x, y, nil)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	l := line("bevington_table6_1.csv", 0, 1)
	for _, q := range [][2]float64{{l.A, -0.222142}, {l.UA, 0.06962967}, {l.B, 0.992780}, {l.UB, 0.002636608}, {l.Cov, -0.0001616271}, {l.S, 0.1044251}} {
		near(t, "Bevington", q[0], q[1], 3e-6)
	}
	l = line("walpole_myers_line.csv", 0, 1)
	at, u := l.At(20)
	for _, q := range [][2]float64{{l.A, 3.82963}, {l.UA, 1.768447}, {l.B, 0.90364}, {l.UB, 0.05011898}, {at, 21.9025}, {u, 0.877939}} {
		near(t, "Walpole and Myers", q[0], q[1], 1e-5)
	}
}

// Reweighted least trimmed squares of R robustbase 0.95-0 (ltsReg, nsamp = "exact"): the same shots dropped, the same line through the rest.
func TestReweightedLTS(t *testing.T) {
	for _, c := range []struct {
		file    string
		x, y    int
		dropped []int
		a, b    float64
		same    bool
	}{
		{"starsCYG.csv", 0, 1, []int{7, 9, 11, 20, 30, 34}, -8.50005488, 3.04615694, true},
		{"telef.csv", 0, 1, []int{14, 15, 16, 17, 18, 19, 20, 21}, -5.16445545, 0.10846535, true},
		{"stackloss.csv", 0, 3, []int{1, 3, 4, 21}, -40.03295516, 0.94354403, true},
	} {
		var x, y []float64
		for _, r := range refdata(t, c.file) {
			x, y = append(x, r[c.x]), append(y, r[c.y])
		}
		if c.file == "telef.csv" && x[0] > 1000 {
			t.Fatalf("years not as expected: %v", x)
		}
		fit := leastTrimmed(x, y, false)
		var off []int
		for i := range x {
			// 2.2414 is the normal 98.75 % quantile, the cut of that package.
			if math.Abs(y[i]-fit.a-fit.b*x[i]) > 2.2414*fit.scale {
				off = append(off, i+1)
			}
		}
		t.Logf("%s: dropped %v, raw line %.6g %.6g, scale %.4g", c.file, off, fit.a, fit.b, fit.scale)
		gone := map[int]bool{}
		for _, i := range c.dropped {
			gone[i] = true
		}
		var kx, ky []float64
		for i := range x {
			if !gone[i+1] {
				kx, ky = append(kx, x[i]), append(ky, y[i])
			}
		}
		l, err := Straight(kx, ky, nil)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.file+" a", l.A, c.a, 1e-8)
		near(t, c.file+" b", l.B, c.b, 1e-7)
		for i := range c.dropped {
			if k := sort.SearchInts(off, c.dropped[i]); k == len(off) || off[k] != c.dropped[i] {
				t.Errorf("%s: shot %d is not seen as far off", c.file, c.dropped[i])
			}
		}
	}
}

// JCGM 101:2008 9.2.2, 9.2.3 and 9.2.4: sums of four normal quantities, of four rectangular ones, and of four rectangular ones of which one is ten
// times as wide; 95 % +-3.91993 (exact), +-3.879407 (analytic), +-17.01 (numpy; u 10.147). They check the drawing and its quantiles as Propagate uses them.
func TestJCGM101(t *testing.T) {
	const m = 400000
	rng := rand.New(rand.NewPCG(drawSeed, 1))
	normal, flat, wide := make([]float64, m), make([]float64, m), make([]float64, m)
	for i := range normal {
		for k := 0; k < 4; k++ {
			normal[i] += rng.NormFloat64()
			flat[i] += math.Sqrt(3) * (2*rng.Float64() - 1)
			wide[i] += math.Sqrt(3) * (2*rng.Float64() - 1) * []float64{1, 1, 1, 10}[k]
		}
	}
	for _, c := range []struct {
		draws   []float64
		u, half float64
	}{{normal, 2, 3.91993}, {flat, 2, 3.879407}, {wide, math.Sqrt(103), 17.01}} {
		_, ss := meanSquares(c.draws)
		within(t, "u", math.Sqrt(ss/(m-1)), c.u, 4*c.u/math.Sqrt(2*m))
		sort.Float64s(c.draws)
		within(t, "97.5 %", c.draws[390000], c.half, 4*2.67*c.u/math.Sqrt(m))
	}
}
