package coded

import (
	"math"
	"slices"
	"sort"

	"leadmark/fit/stat"
	"leadmark/vision/ruler"
)

// Fix is a place in the code: the mark of index Zero reads 0, and readings rise with the
// index (Sense +1) or fall (-1).
type Fix struct {
	Zero, Sense   int
	Evidence      float64 // nats, against chance
	agree, differ int     // cells of the part that fits
}

// Decode finds the place of a row's cells in the code. seen says that there is a code, be it
// read or not.
func Decode(row ruler.Row) (fix Fix, seen, ok bool) {
	x, strong := cellSigns(row)
	if !strong || !balancedSomewhere(x) {
		return fix, false, false
	}
	second := math.Inf(-1)
	fix.Evidence = math.Inf(-1)
	consider := func(f Fix) {
		if f.Evidence > fix.Evidence {
			fix, f = f, fix
		}
		second = max(second, f.Evidence)
	}
	n, b := len(x), newBench(len(x))
	for first := Window - n - 1; first <= Cells-Window+1; first++ {
		up, down := b.fit(x, first, +1), b.fit(x, first+n-1, -1)
		up.Zero, down.Zero = row.Cells.First-first, row.Cells.First+first+n
		consider(up)
		consider(down)
	}
	places := math.Log(2 * Cells)
	ok = fix.Evidence > places+math.Log(codeSure) && fix.Evidence > second+codeMargin
	fix.Evidence -= places
	return fix, ok || balanced(x), ok
}

// balancedSomewhere says whether any window of the code's length is balanced: no other can be a
// part of the code.
func balancedSomewhere(x []float64) bool {
	if len(x) <= Window {
		return balanced(x)
	}
	for i := 0; i+Window <= len(x); i++ {
		if balanced(x[i : i+Window]) {
			return true
		}
	}
	return false
}

// balanced says whether dark and light cells are about as many, as in the code: numerals and
// print, which may stand where a code would, leave most places light.
func balanced(x []float64) bool {
	var dark, clear float64
	for _, v := range x {
		if math.Abs(v) > clearTone {
			clear++
			if v > 0 {
				dark++
			}
		}
	}
	return clear >= codeSeen && min(dark, clear-dark) > bothTones*clear
}

// bench is what cells are laid beside the code on.
type bench struct {
	dark [Cells]bool
	sums []float64 // evidence up to each cell in view
	bad  []int     // cells that differ, up to there

	yes, no float64 // weights of a cell that fits, and of one that does not
}

func newBench(cells int) *bench {
	b := &bench{sums: make([]float64, 1, cells+1), bad: make([]int, 1, cells+1),
		yes: math.Log(2 * (1 - misread)), no: math.Log(2 * misread)}
	for i := range b.dark {
		b.dark[i] = Dark(i)
	}
	return b
}

// fit weighs a run of cells against the code from cell first on, upwards or downwards: the stretch
// of at least codeShortest cells that fits best, with a little taken off for cells in view
// outside it. The weight of a cell is the logarithm of its likelihood ratio against a coin's,
// times how clear its tone is.
func (b *bench) fit(x []float64, first, sense int) Fix {
	sums, bad := b.sums[:1], b.bad[:1]
	for k, v := range x {
		cell := first + sense*k
		if v == 0 || cell < 0 || cell >= Cells {
			continue
		}
		n := len(sums) - 1
		if (v > 0) == b.dark[cell] {
			sums, bad = append(sums, sums[n]+b.yes*math.Abs(v)), append(bad, bad[n])
		} else {
			sums, bad = append(sums, sums[n]+b.no*math.Abs(v)), append(bad, bad[n]+1)
		}
	}
	f := Fix{Sense: sense, Evidence: math.Inf(-1)}
	start := 0
	for end := codeShortest; end < len(sums); end++ {
		if from := end - codeShortest; sums[from] < sums[start] {
			start = from
		}
		if v := sums[end] - sums[start] - min(cellHiddenMax,
			cellHidden*float64(len(sums)-1-end+start)); v > f.Evidence {
			f.Evidence, f.differ = v, bad[end]-bad[start]
			f.agree = end - start - f.differ
		}
	}
	return f
}

// cellSigns turns tones into signed clearness, +1 surely of the marks' tone to -1 surely not, 0
// not known, by comparison with the cells nearby: the code has both tones in any five. strong is
// false where the tones do not differ as print does.
func cellSigns(row ruler.Row) (x []float64, strong bool) {
	tone := row.Cells.Tone
	x = make([]float64, len(tone))
	var spread []float64
	for i, v := range tone {
		lo, hi, ok := nearTones(tone, i)
		if v < 0 || !ok {
			continue
		}
		spread = append(spread, hi-lo)
		if hi <= lo {
			continue
		}
		c := max(-1, min(1, 2*(2*v-lo-hi)/(hi-lo)))
		if row.DarkMarks {
			c = -c
		}
		x[i] = c
	}
	// Cells are as dark as the marks, and wider; what is left of marks in their filtered profile is
	// less than what stands in the picture.
	return x, len(spread) >= codeSeen && stat.Median(slices.Clone(spread)) > row.Contrast
}

// nearTones are the second lowest and the second highest tone about a cell: one odd cell, such
// as a glare, does not count.
func nearTones(tone []float64, i int) (lo, hi float64, ok bool) {
	var near []float64
	from := max(0, min(i-codeReach, len(tone)-2*codeReach-1)) // as many at the ends of the row
	for _, v := range tone[from:min(len(tone), from+2*codeReach+1)] {
		if v >= 0 {
			near = append(near, v)
		}
	}
	if len(near) < codeReach {
		return 0, 0, false
	}
	sort.Float64s(near)
	return near[1], near[len(near)-2], true
}
