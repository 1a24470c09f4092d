package fit

import (
	"fmt"
	"math"

	"leadmark/fit/outlier"
)

// Outlook is a run's model with its unknowns and its scatter held, as fitted or as supposed: what
// shots to come would make of the lag is worked out on it (package design says which to make).
type Outlook struct {
	Run     Run     // with the shots there are
	Spread2 float64 // s^2, spread squared
	DF      float64 // degrees of freedom of the spread; 0 when supposed
	ULag    float64 // s, standard uncertainty of the lag as it is now; 0 where it is not told

	theta, weight []float64
	shrink        float64 // of the stated variances
	like          *Shot   // uncertainties of supposed shots; nil: those of the run
}

// NewOutlook fits a run; errors as Lag's.
func NewOutlook(run Run) (*Outlook, error) {
	if err := check(run); err != nil {
		return nil, err
	}
	s := newLayout(run).review()
	o := &Outlook{Run: run, Spread2: s.Best.T, DF: 2 * s.Best.Info,
		theta: s.Theta, weight: s.Weight, shrink: s.Best.Shrink}
	if s.identify().lag {
		o.ULag = math.Sqrt(s.Best.Cov[0] + math.Max(s.Best.Adjust[0], 0)/s.Best.Info)
	}
	return o, nil
}

// Suppose is the outlook of a run yet to be shot: like is one of its shots with the uncertainties
// that all will have. It counts nothing. It returns ErrBadRun.
func Suppose(run Run, like Shot, lag, spread float64) (*Outlook, error) {
	run.Shots = nil
	if why := badRun(run); why != "" {
		return nil, fmt.Errorf("%w: %s", ErrBadRun, why)
	}
	run.Shots = []Shot{like}
	o := &Outlook{Run: run, Spread2: spread * spread, shrink: 1, weight: []float64{0}, like: &like}
	o.theta = make([]float64, newLayout(run).p)
	o.theta[colLag] = lag
	return o, nil
}

// Gain is what shots of one setting tell: S shots' worth of precision give the information X X'
// S/(1 + Shared S).
type Gain struct {
	X                []float64
	Variance, Shared float64 // m^2, of one shot; of the error its height shares
	Had              float64 // 1/m^2, precision of the shots already made at this very setting
}

// Information is that of the shots there are and of what is known beforehand, a matrix of len(X)
// rows whose first unknown is the lag, and what shots of each setting would add to it. A setting's
// uncertainties are those of Like.
func (o *Outlook) Information(settings []Shot) (base []float64, gains []Gain) {
	run := o.Run
	run.Shots = append(append([]Shot(nil), run.Shots...), settings...)
	weight := append(append([]float64(nil), o.weight...), make([]float64, len(settings))...)
	l := newLayout(run)
	m := l.linearise(o.theta, weight, o.Spread2, nil)
	n := len(o.Run.Shots)
	variance := func(i int) float64 { return o.shrink*m.Stated[i] + o.Spread2*m.Slope2[i] }
	for k, setting := range settings {
		i := n + k
		g := Gain{X: m.X[i*l.p : (i+1)*l.p], Variance: variance(i), Shared: m.Z[i] * m.Z[i]}
		if g.Shared > 0 && o.alone(setting) {
			for j := range o.Run.Shots { // the same height's error is the same: its shots share it with the new ones
				if s := o.Run.Shots[j]; s.Drop == setting.Drop && weight[j] > 0 {
					g.Had += weight[j] / variance(j)
					weight[j] = 0
				}
			}
		}
		gains = append(gains, g)
	}
	rest := make([]float64, n+len(settings))
	for i := 0; i < n; i++ {
		if weight[i] > 0 {
			rest[i] = variance(i) / weight[i]
		}
	}
	return m.Information(rest), gains
}

// alone tells whether all shots of a height have the setting's delay.
func (o *Outlook) alone(setting Shot) bool {
	for _, s := range o.Run.Shots {
		if s.Drop == setting.Drop && s.Delay != setting.Delay {
			return false
		}
	}
	return true
}

// Like is a shot with the uncertainties usual in the run: root mean squares over the shots that count.
func (o *Outlook) Like() Shot {
	if o.like != nil {
		return *o.like
	}
	var u, h, hs, v, n, nh, nv float64
	for i, s := range o.Run.Shots {
		if o.weight[i] <= 0 {
			continue
		}
		u, n = u+s.AdvanceU*s.AdvanceU, n+1
		if s.Drop > 0 {
			h, hs, nh = h+s.DropU*s.DropU, hs+s.DropShotU*s.DropShotU, nh+1
		}
		if s.Speed > 0 {
			v, nv = v+s.SpeedU*s.SpeedU, nv+1
		}
	}
	mean := func(sum, n float64) float64 { return math.Sqrt(sum / math.Max(n, 1)) }
	return Shot{AdvanceU: mean(u, n), DropU: mean(h, nh), DropShotU: mean(hs, nh), SpeedU: mean(v, nv)}
}

// enlarged is the fit the run with more shots would give at the same spread.
func (o *Outlook) enlarged(more []Shot) (*solution, bool) {
	run := o.Run
	run.Shots = append(append([]Shot(nil), run.Shots...), more...)
	weight := append([]float64(nil), o.weight...)
	for range more {
		weight = append(weight, 1)
	}
	l := newLayout(run)
	m := l.linearise(o.theta, weight, o.Spread2, nil)
	if !m.Estimable(colLag) || m.Spare() < 1 {
		return nil, false
	}
	y := math.Log(o.shrink)
	if o.Spread2 > 0 {
		y = math.Log1p(o.Spread2 / m.Unit)
	}
	pt := m.At(y)
	return &solution{l, &outlier.Fit{Model: m, Best: pt}}, pt.OK && pt.Info > 0
}

// After is the lag's standard uncertainty as Lag would report it after more shots, Kenward and
// Roger's addition included, and the degrees of freedom of the scatter then; ok is false where the
// lag would still not be told.
func (o *Outlook) After(more []Shot) (u, df float64, ok bool) {
	s, ok := o.enlarged(more)
	if !ok {
		return 0, 0, false
	}
	pt := s.Best
	return math.Sqrt(pt.Cov[0] + math.Max(pt.Adjust[0], 0)/pt.Info), 2 * pt.Info, true
}

// Limit is the source, as in Contribution, that leaves most of the lag's variance after more shots;
// "" where it would not be told.
func (o *Outlook) Limit(more []Shot) string {
	s, ok := o.enlarged(more)
	if !ok {
		return ""
	}
	b := s.budget(colLag, "lag", "s", &Estimate{})
	bySource, most := map[string]float64{}, ""
	for _, l := range b.Lines {
		bySource[l.Source] += l.Share
		if most == "" || bySource[l.Source] > bySource[most] {
			most = l.Source
		}
	}
	return most
}
