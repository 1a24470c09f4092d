package scale

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"leadmark/fit/stat"
	"leadmark/vision/ruler"
)

// ByIndex is the projective scale of a row in terms of the marks' index:
// t = (a + b m) / (1 + c m), m = (index - mid) / half.
type ByIndex struct {
	A, B, C   float64
	Mid, Half float64
	Cov       [3][3]float64 // of a, b, c
	Residual  []float64     // t less the fit, for every mark
	Weight    []float64     // 0 to 1
	RMS       float64       // of the marks that count
	Used      int
}

// Fit fits the projective scale by Gauss-Newton with Tukey's biweight (Huber and
// Ronchetti, Robust Statistics, 2nd ed., section 7.6), tuned at 4.685 robust standard
// deviations; it needs four marks.
func Fit(marks []ruler.Mark) (ByIndex, bool) {
	l := ByIndex{Residual: make([]float64, len(marks)), Weight: make([]float64, len(marks))}
	if len(marks) < fewestMarks {
		return l, false
	}
	first, last := marks[0].Index, marks[len(marks)-1].Index
	l.Mid, l.Half = float64(first+last)/2, float64(last-first)/2
	if l.Half <= 0 {
		return l, false
	}
	l.start(marks)
	// The bound on what counts comes down from a whole pitch, so that perspective is fitted
	// before it can look like outliers.
	for floor := 1.0; floor > lastFloor; floor *= floorFalls {
		l.reweigh(marks, floor)
		if !l.improve(marks) {
			return l, false
		}
	}
	l.reweigh(marks, 0)
	return l, l.summarise(marks)
}

func (l *ByIndex) m(index float64) float64 { return (index - l.Mid) / l.Half }

func (l *ByIndex) at(m float64) float64 { return (l.A + l.B*m) / (1 + l.C*m) }

// Place is where the mark of an index lies along the axis, px.
func (l *ByIndex) Place(index float64) float64 { return l.at(l.m(index)) }

// start takes the median line through the marks.
func (l *ByIndex) start(marks []ruler.Mark) {
	var slopes []float64
	gap := max(1, len(marks)/startParts)
	for i := 0; i+gap < len(marks); i++ {
		p, q := marks[i], marks[i+gap]
		slopes = append(slopes, (q.T-p.T)/(l.m(float64(q.Index))-l.m(float64(p.Index))))
	}
	l.B = stat.Median(slices.Clone(slopes))
	rest := make([]float64, len(marks))
	for i, k := range marks {
		rest[i] = k.T - l.B*l.m(float64(k.Index))
	}
	l.A = stat.Median(slices.Clone(rest))
}

// reweigh sets residuals and biweights from the present fit; floor, in pitches, is the least
// robust standard deviation it assumes.
func (l *ByIndex) reweigh(marks []ruler.Mark, floor float64) {
	dev := make([]float64, len(marks))
	for i, k := range marks {
		l.Residual[i] = k.T - l.Place(float64(k.Index))
		dev[i] = math.Abs(l.Residual[i])
	}
	scale := max(stat.RobustSD(slices.Clone(dev)), max(leastScatter, floor)*math.Abs(l.B)/l.Half)
	for i, r := range l.Residual {
		l.Weight[i] = 0
		if u := r / (4.685 * scale); math.Abs(u) < 1 {
			l.Weight[i] = (1 - u*u) * (1 - u*u)
		}
	}
}

// improve makes one Gauss-Newton step.
func (l *ByIndex) improve(marks []ruler.Mark) bool {
	n, g := l.normal(marks)
	var d mat.VecDense
	if d.SolveVec(n, g) != nil {
		return false
	}
	l.A, l.B, l.C = l.A+d.AtVec(0), l.B+d.AtVec(1), l.C+d.AtVec(2)
	l.C = max(-MostBent, min(MostBent, l.C))
	return true
}

// normal returns the normal equations about the present fit, with the prior on c.
func (l *ByIndex) normal(marks []ruler.Mark) (*mat.SymDense, *mat.VecDense) {
	n, g := mat.NewSymDense(3, nil), mat.NewVecDense(3, nil)
	for i, k := range marks {
		m := l.m(float64(k.Index))
		den := 1 + l.C*m
		j := [3]float64{1 / den, m / den, -m * l.at(m) / den}
		for r := range j {
			g.SetVec(r, g.AtVec(r)+l.Weight[i]*j[r]*l.Residual[i])
			for s := r; s < 3; s++ {
				n.SetSym(r, s, n.At(r, s)+l.Weight[i]*j[r]*j[s])
			}
		}
	}
	// Prior against a residual variance of about a thousandth of a pitch squared.
	v := math.Pow(priorScatter*l.B/l.Half, 2) / (Foreshortening * Foreshortening)
	n.SetSym(2, 2, n.At(2, 2)+v)
	g.SetVec(2, g.AtVec(2)-v*l.C)
	return n, g
}

// summarise sets rms, used and cov.
func (l *ByIndex) summarise(marks []ruler.Mark) bool {
	var ss, sw float64
	for i, w := range l.Weight {
		ss += w * l.Residual[i] * l.Residual[i]
		sw += w
		if w > 0 {
			l.Used++
		}
	}
	if sw <= 3 {
		return false
	}
	l.RMS = math.Sqrt(ss / sw)
	n, _ := l.normal(marks)
	var inv mat.Dense
	if inv.Inverse(n) != nil {
		return false
	}
	v := max(ss/(sw-3), leastPlacing*leastPlacing) // weighted residual variance
	for r := range l.Cov {
		for s := range l.Cov[r] {
			l.Cov[r][s] = v * inv.At(r, s)
		}
	}
	return true
}

// Pitch is the local distance of neighbouring marks at an index, px.
func (l *ByIndex) Pitch(index float64) float64 {
	return math.Abs(l.Place(index+0.5) - l.Place(index-0.5))
}

// Index is the place on the index scale of t.
func (l *ByIndex) Index(t float64) float64 {
	return l.Mid + l.Half*(t-l.A)/(l.B-l.C*t)
}

// IndexSlopes is the place of t on the index scale, and its derivatives by A, B and C.
func (l *ByIndex) IndexSlopes(t float64) (u float64, by [3]float64) {
	den := l.B - l.C*t
	m := (t - l.A) / den
	return l.Mid + l.Half*m, [3]float64{-l.Half / den, -l.Half * m / den, l.Half * m * t / den}
}
