package figure

import (
	"fmt"
	"math"
	"slices"

	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/style"
	"leadmark/fit/stat"
)

// histogram is how many values lie in bins of one width, those of each colour apart. Bin k begins at
// (first + k) * width.
type histogram struct {
	width   float64
	first   int
	counts  [][style.Series]int
	highest int // values in one bin, of all colours
}

// How many bins an axis has at most, so that bars can be seen on the narrowest page: where they lie
// all along it, and where some fill a part of it.
const (
	mostBins     = 90
	mostThinBins = 200
)

// binned counts values that lie on an axis, each with the number of its mark. Bins are as wide as
// Freedman and Diaconis (1981) advise, 2 IQR / n^(1/3), made round, so that they end on the
// graduations below; the axis has so many at most.
func binned(values []float64, marks []int, a svg.Axis, most float64) histogram {
	span := a.Hi - a.Lo
	h := histogram{width: span / 30}
	if n := len(values); n > 0 {
		q1, q3 := stat.Quantile(slices.Clone(values), 0.25), stat.Quantile(slices.Clone(values), 0.75)
		if q3 > q1 {
			h.width = 2 * (q3 - q1) / math.Cbrt(float64(n))
		}
	}
	h.width = svg.NiceStep(max(h.width, span/most))
	h.first = int(math.Floor(a.Lo / h.width))
	h.counts = make([][style.Series]int, int(math.Floor(a.Hi/h.width))-h.first+1)
	for i, v := range values {
		k := int(math.Floor(v/h.width)) - h.first
		k = min(max(k, 0), len(h.counts)-1)
		h.counts[k][marks[i]%style.Series]++
	}
	for _, n := range h.counts {
		h.highest = max(h.highest, sum(n))
	}
	return h
}

func sum(counts [style.Series]int) (n int) {
	for _, k := range counts {
		n += k
	}
	return n
}

// draw stands the bars on floor, the highest so high, their colours one upon another.
func (h histogram) draw(c *svg.Canvas, a svg.Axis, floor, high float64) {
	for k, counts := range h.counts {
		x0 := max(a.At(float64(h.first+k)*h.width), a.P0)
		x1 := min(a.At(float64(h.first+k+1)*h.width), a.P1)
		y := floor
		for colour, n := range counts {
			if n > 0 {
				tall := high * float64(n) / float64(h.highest)
				y -= tall
				c.Rect(fmt.Sprintf("bar s%d", colour), x0, y, x1-x0, tall)
			}
		}
	}
}

// says is how wide the bars are, in the axis' unit, and how many frames the highest holds.
func (h histogram) says(unit string) string {
	return fmt.Sprintf("%s %s wide, the highest of %s", svg.TickText(h.width, h.width), unit,
		phrase.Count(h.highest, "frame"))
}
