package shoot

import (
	"math"

	"leadmark/plan"
)

// heading estimates the elevation's law from the places of noses: each elevation is known to the half height of the opening over the
// lead, a uniform error of variance h^2/12; what the elevations scatter beyond that is the animals' own (the method of moments). nil
// with fewer than five.
func (r *Result) heading() *Heading {
	var es, noise []float64
	for _, f := range r.Frames {
		if f.Status != Found || f.Animals > 1 || f.AtLeast || f.Height == nil || f.Lead <= 0 {
			continue
		}
		e := math.Atan2(*f.Height, f.Lead)
		es = append(es, e)
		noise = append(noise, r.Plan.Request.Subject.Exit[0]*math.Cos(e)*math.Cos(e)/(math.Sqrt(12)*f.Lead))
	}
	n := float64(len(es))
	if len(es) < fewestLeads || r.Plan.Request.Subject.Motion != plan.Straight {
		return nil
	}
	mean, own := 0.0, 0.0
	for _, e := range es {
		mean += e / n
	}
	for i, e := range es {
		own += (e-mean)*(e-mean)/(n-1) - noise[i]*noise[i]/n
	}
	var total float64
	for i := range noise {
		total += max(0, own) + noise[i]*noise[i]
	}
	return &Heading{N: len(es), Elevation: mean, SD: math.Sqrt(max(0, own)), U: math.Sqrt(total) / n}
}
