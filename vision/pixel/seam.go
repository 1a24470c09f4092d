package pixel

import (
	"math"

	"leadmark/fit/stat"
)

// A seam: from one coding unit on, all that follows is brighter or darker by the same amount,
// because the mean of each block is coded as the difference from the last (T.81, F.1.1.5.1). It
// runs along the top of the rest of that unit's row and along the bottom of the row's beginning.
// seamed says whether there is a seam. An edge of the scene may lie along a row of units, too, but
// none goes up by just one row on the way. A seam that begins with a row, or near its ends, is not
// told from one.
func (m mosaic) seamed() bool {
	if m.n < fewestIn {
		return false
	}
	upper, lower := make([]int, m.n), make([]int, m.n)
	rows := (m.g.H - 2) / m.h
	for r := 1; r <= rows; r++ {
		if r == 1 {
			m.steps(r, upper)
		}
		m.steps(r+1, lower)
		for _, sign := range []int{1, -1} {
			if from, ok := staircase(upper, lower, sign); ok && m.seam(r, from) {
				return true
			}
		}
		upper, lower = lower, upper
	}
	return false
}

// steps puts the tone's step at the top of each coding unit of a row into out, less what it changes
// by on both sides; zeros below the picture.
func (m mosaic) steps(row int, out []int) {
	y := row * m.h
	if y+1 >= m.g.H {
		clear(out)
		return
	}
	for c := range out {
		x := m.middle(c)
		a, b, u, v := m.tone(x, y-2), m.tone(x, y-1), m.tone(x, y), m.tone(x, y+1)
		out[c] = u - b - (b-a+v-u)/2
	}
}

// middle is the middle column of a coding unit, as far as it lies in the picture.
func (m mosaic) middle(c int) int { return min(c*m.w+m.w/2, m.g.W-1) }

// staircase finds from which unit of a row on a seam would run along its top, and before that along
// its bottom; ok where most columns step that way.
func staircase(upper, lower []int, sign int) (from int, ok bool) {
	score := 0
	for _, d := range upper {
		score += steps(d, sign)
	}
	best := score
	for c := range upper {
		score += steps(lower[c], sign) - steps(upper[c], sign)
		if score > best {
			best, from = score, c+1
		}
	}
	return from, most(best, len(upper))
}

func steps(d, sign int) int {
	if d*sign >= seamStep {
		return 1
	}
	return 0
}

// most says whether k of n are all but the few that may be otherwise.
func most(k, n int) bool { return mostOff*(n-k) <= n }

// seam looks closely at where a seam may run.
func (m mosaic) seam(row, from int) bool {
	var along, other, inside []float64
	for c := range m.n {
		y, beside := row*m.h, row*m.h+m.h
		if c < from {
			y, beside = beside, y
		}
		a, b := m.crossing(c, y), m.crossing(c, beside)
		along, other, inside = append(along, a.step), append(other, b.step), append(inside, a.inside)
	}
	height, rough := stat.Median(along), max(roughness, stat.Median(inside))
	return math.Abs(height) >= plainly*rough && min(from, m.n-from) >= fewBeside &&
		onlyAlong(along[:from], other[:from], height) && onlyAlong(along[from:], other[from:], height)
}

// onlyAlong says whether most columns step by height along a seam, and few beside it, as what
// repeats itself from row to row would.
func onlyAlong(along, other []float64, height float64) bool {
	tol := math.Abs(height) / 2
	return most(near(along, height, tol), len(along)) && mostOff*near(other, height, tol) <= len(other)
}

// unitCrossing is what a coding unit shows across a line: the tone's step less what it changes by
// on both sides, and that change's size.
type unitCrossing struct{ step, inside float64 }

// crossing looks at the line above y across a whole unit, so that noise counts less; all is zero
// below the picture.
func (m mosaic) crossing(c, y int) unitCrossing {
	if y+1 >= m.g.H {
		return unitCrossing{}
	}
	var sum [4]int
	x0, x1 := c*m.w, min(c*m.w+m.w, m.g.W)
	for x := x0; x < x1; x++ {
		for k := range sum {
			sum[k] += m.tone(x, y-2+k)
		}
	}
	n := float64(x1 - x0)
	before, after := float64(sum[1]-sum[0])/n, float64(sum[3]-sum[2])/n
	return unitCrossing{
		step:   float64(sum[2]-sum[1])/n - (before+after)/2,
		inside: max(math.Abs(before), math.Abs(after)),
	}
}

// near is how many values lie within tol of one.
func near(all []float64, v, tol float64) int {
	n := 0
	for _, a := range all {
		if math.Abs(a-v) <= tol {
			n++
		}
	}
	return n
}
