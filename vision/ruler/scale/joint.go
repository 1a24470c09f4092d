package scale

import (
	"math"

	"gonum.org/v1/gonum/stat"

	"leadmark/vision/ruler"
)

// SetOff is by how much, px, the lines of a row are plainliest set off against each other where the next
// section of a folding rule begins: it lies over or under the first, nearer the camera or further from it,
// and one scale for both is known no better. Printed rules put together of sheets have such places too. It
// is the difference of the straight lines through the marks to either side; 0 where none is plain.
func SetOff(marks []ruler.Mark) float64 {
	most, by := plainJoint, 0.0
	for i := jointMarks; i+jointMarks <= len(marks); i++ {
		before, past := lineThrough(marks[i-jointMarks:i]), lineThrough(marks[i:i+jointMarks])
		mid := float64(marks[i-1].Index+marks[i].Index) / 2
		pitch := math.Abs(before.b+past.b) / 2
		off := math.Abs(before.at(mid) - past.at(mid))
		u := math.Sqrt(before.variance(mid, pitch) + past.variance(mid, pitch))
		if z := off / u; off > leastJoint*pitch && z > most {
			by, most = off, z
		}
	}
	return by
}

// through is a straight line through some marks, t = a + b index.
type through struct{ a, b, mean, sxx, rms, n float64 }

func lineThrough(marks []ruler.Mark) through {
	x, y := make([]float64, len(marks)), make([]float64, len(marks))
	for i, m := range marks {
		x[i], y[i] = float64(m.Index), m.T
	}
	l := through{n: float64(len(marks))}
	l.a, l.b = stat.LinearRegression(x, y, nil, false)
	l.mean = stat.Mean(x, nil)
	for i := range x {
		l.sxx += (x[i] - l.mean) * (x[i] - l.mean)
		l.rms += (y[i] - l.at(x[i])) * (y[i] - l.at(x[i])) / (l.n - 2)
	}
	l.rms = math.Sqrt(l.rms)
	return l
}

func (l through) at(index float64) float64 { return l.a + l.b*index }

// variance is that of the line's place at an index, of marks that lie as far off it as these do.
func (l through) variance(index, pitch float64) float64 {
	s := max(l.rms, leastScatter*math.Abs(pitch))
	return s * s * (1/l.n + (index-l.mean)*(index-l.mean)/l.sxx)
}
