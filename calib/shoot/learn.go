package shoot

import (
	"fmt"
	"math"

	gonum "gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/fit/stat"
)

// Learned is what the frames teach of the subject's speed at the trip point.
type Learned struct {
	N, Censored     int
	Speed, SpeedSD  float64    // m/s, of the law from trip to trip
	Known           plan.Known // of Speed and SpeedSD
	Speed95         [2]float64 // of Speed
	MaxLikelihoodSD float64    // SpeedSD before its bias was taken out
	Heading         *Heading   // nil where heights are not known
}

// fewestLeads is without how many leads seen nothing is learned.
const fewestLeads = 5

// Learn estimates the law of the speed by maximum likelihood with censored leads (Lawless, Statistical Models and Methods for Lifetime
// Data, chapter 5, from memory), the lag's spread and the heading integrated out. The interval is where twice the log likelihood,
// maximised over the standard deviation, falls by n log(1 + t^2/(n-1)) at most, t Student's 97.5 % quantile and n the leads seen: without
// censoring and spread that is exactly the textbook's t interval. The mean lag's uncertainty is added in quadrature.
//
// It returns an *input.NoResult with fewer than 5 leads seen, and for a motion that is not straight: then speed is not lead over time.
func Learn(l Leads, s plan.Subject, law plan.LagLaw, delay float64) (Learned, error) {
	out := Learned{N: len(l.Seen) + len(l.Beyond) + l.Gone, Censored: len(l.Beyond) + l.Gone}
	switch {
	case s.Motion != plan.Straight:
		return out, &input.NoResult{What: fmt.Sprintf("the speed is learned for motion straight only, not for %s", s.Motion), Hint: "the leads are in shoot.json"}
	case len(l.Seen) < fewestLeads:
		return out, &input.NoResult{What: fmt.Sprintf("%d leads were seen; a speed is learned from %d or more", len(l.Seen), fewestLeads), Hint: "take more frames, or widen the field"}
	}
	f, gone := factors(s, law, delay), l.Field.goneSpeeds(s, law, delay)
	past := l.past(s.BehindNose)
	scale := gonum.Mean(past.Seen, nil) / meanFactor(f)
	p := profile{likelihood: func(mean, sd float64) float64 { return past.logLikelihood(f, gone, mean, sd) }, scale: scale, from: 0.05 * scale, to: 6 * scale, least: 1e-3 * scale}
	n := float64(len(l.Seen))
	mean, ends := p.interval(n)
	out.Speed = mean
	out.MaxLikelihoodSD = p.sd(mean)
	out.SpeedSD = out.MaxLikelihoodSD * math.Sqrt(n/(n-1)) // as n - 1 takes the bias out of a sample's variance
	common := mean * law.MeanU / (law.Mean + delay)
	for i, end := range ends {
		out.Speed95[i] = max(0, mean+sign(end-mean)*math.Hypot(end-mean, distuv.UnitNormal.Quantile(0.975)*common))
	}
	out.Known = plan.Known{U: math.Hypot((ends[1]-ends[0])/2/student(n), common), DF: n - 1}
	return out, nil
}

// student is Student's 97.5 % quantile for n values.
func student(n float64) float64 { return stat.T95(n - 1) }

func sign(x float64) float64 { return math.Copysign(1, x) }

// past takes off the leads what the nose was past the trip point when the beam broke.
func (l Leads) past(behind float64) Leads {
	o := Leads{Gone: l.Gone, Field: l.Field}
	for _, x := range l.Seen {
		o.Seen = append(o.Seen, x-behind)
	}
	for _, x := range l.Beyond {
		o.Beyond = append(o.Beyond, x-behind)
	}
	return o
}

func meanFactor(f []factor) float64 {
	sum := 0.0
	for _, q := range f {
		sum += q.w * q.k
	}
	return sum
}
