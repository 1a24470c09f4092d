package reach

import (
	"math"

	"leadmark/calib/plan/subject"
)

// ClosedLead is the mean lead in closed form, where there is one: E[v] E[tau] E[cos e] E[cos a] + b
// E[cos e cos a], lag, speed and the two headings being independent and a normal angle's cosine
// having the mean cos(mean) exp(-variance/2). ok is false for a measured course, for a hop whose
// body turns with its fall, and for an elevation that follows Student's t. It is the check of the
// drawn one.
func (m *Model) ClosedLead() (mean float64, ok bool) {
	s := m.s
	if s.Motion == subject.Table || s.Motion == subject.Hop && s.BehindNose > 0 || m.lift.DF > 0 {
		return 0, false
	}
	cosine := math.Cos(s.Elevation) * math.Exp(-m.lift.Scale*m.lift.Scale/2) *
		math.Exp(-s.AzimuthSD*s.AzimuthSD/2)
	return cosine * (m.speed.CutMean()*(m.lagMean()+m.delay) + s.BehindNose), true
}

// lagMean is the mean of the lag's law; what is cut off below zero is passed over for the t, where
// it is less than 0.025.
func (m *Model) lagMean() float64 {
	if m.lag.DF == 0 {
		return m.lag.CutMean()
	}
	return m.lag.Mean
}
