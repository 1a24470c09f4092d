package marks

import (
	"math"

	"leadmark/fit/stat"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// A row that was followed on past the ruler's end, through what lies behind it, has a tail whose
// places are random against the ruler's scale.

// onScale is the part of a row that is likeliest to be a ruler's: that over which the log-likelihood
// of its places under one projective scale, against places anywhere, is largest.
func onScale(row []graduation) []graduation {
	for {
		part := likeliestPart(row)
		if len(part) == len(row) {
			return row
		}
		row = part
	}
}

func likeliestPart(row []graduation) []graduation {
	marks := make([]ruler.Mark, len(row))
	for i, q := range row {
		marks[i] = ruler.Mark{T: q.t, Index: q.index}
	}
	l, ok := scale.Fit(marks)
	if !ok {
		return row
	}
	off := roughness(row, &l)
	uneven := max(leastUneven, stat.RobustSD(absolute(off)))
	sum, top, from := 0.0, 0.0, 0
	best := row[:0]
	for i := range row {
		if i > 0 {
			sum += float64(missing(row, i)) * math.Log(lostShare/chanceShare)
		}
		if sum <= 0 {
			sum, from = 0, i
		}
		u, density := off[i]/uneven, 0.0
		if math.Abs(l.Residual[i]) < l.Pitch(float64(row[i].index))/2 { // else its index is another
			density = math.Exp(-0.5*u*u) / (uneven * math.Sqrt(2*math.Pi))
		}
		sum += math.Log((1-strayShare)*density + strayShare)
		if sum > top {
			top, best = sum, row[from:i+1]
		}
	}
	return best
}

// roughness is by how much each line is off the scale otherwise than its neighbours, pitches: the
// lens, and a ruler that is bent, take several off it together.
func roughness(row []graduation, l *scale.ByIndex) []float64 {
	n := len(row)
	out := make([]float64, n)
	for i := range row {
		a, b := max(0, i-1), min(n-1, i+1)
		if i == 0 {
			a = 2
		} else if i == n-1 {
			b = n - 1 - 2
		}
		out[i] = (l.Residual[i] - (l.Residual[a]+l.Residual[b])/2) / l.Pitch(float64(row[i].index))
	}
	return out
}

func absolute(v []float64) []float64 {
	out := make([]float64, len(v))
	for i, x := range v {
		out[i] = math.Abs(x)
	}
	return out
}

// missing is how many lines are missing before line i: none where a scale goes on with its tens.
func missing(row []graduation, i int) int {
	gap := row[i].index - row[i-1].index
	if gap == scale.Ten && tensAbout(row, i) >= scale.FewestTens {
		return 0
	}
	return gap - 1
}
