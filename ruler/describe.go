package ruler

import (
	"fmt"
	"math"
)

// Describe is dev only.
func Describe(row Row) string {
	m := row.Marks
	l, ok := fitLattice(m)
	dev := []float64{}
	if ok {
		for i, k := range m {
			dev = append(dev, math.Abs(l.res[i])/l.pitch(float64(k.Index)))
		}
	}
	s := fmt.Sprintf("%d of %d pitch %.2f (%.0f,%.0f)-(%.0f,%.0f) half %.1f ok %v used %d dev %.3f rms %.3f c %.3f con %.3f noise %.4f", len(m), m[len(m)-1].Index-m[0].Index+1, row.Pitch,
		row.Origin.Add(row.Dir.Mul(m[0].T)).X, row.Origin.Add(row.Dir.Mul(m[0].T)).Y, row.Origin.Add(row.Dir.Mul(m[len(m)-1].T)).X, row.Origin.Add(row.Dir.Mul(m[len(m)-1].T)).Y,
		row.HalfLength, ok, l.used, middle(dev), l.rms, l.c, row.Contrast, row.Noise)
	if ok {
		for _, q := range identify(row, &l) {
			s += fmt.Sprintf(" [%s %.2f ph %d e %.0f]", q.unit, q.graduation*1000, q.phase, q.evidence)
		}
	}
	s += fmt.Sprintf(" first %d lengths", m[0].Index)
	for _, k := range m {
		s += fmt.Sprintf(" %.1f", k.Length/row.Pitch)
	}
	return s
}
