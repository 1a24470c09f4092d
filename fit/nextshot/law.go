package nextshot

import (
	"math"

	"leadmark/fit/mixed"
	"leadmark/fit/stat"
)

const (
	placeStep  = 0.5 // standard deviations
	reachLeft  = 32  // places an estimate may lie below the truth
	reachRight = 10  // and above
)

// places are points on the path from y on, half a standard deviation apart, upwards or downwards.
func places(m *mixed.Model, y, way float64, count int) []mixed.Point {
	var out []mixed.Point
	for len(out) < count && y >= mixed.Floor && y < mixed.Limit {
		pt := m.At(y)
		if !pt.OK || !(pt.Info > 0) {
			break
		}
		out = append(out, pt)
		y += way * placeStep / math.Sqrt(pt.Info)
	}
	return out
}

// logVariance is the law of log(chi-squared/df) in places: the kernel exp(df/2 (x - e^x)), summed to 1.
func logVariance(df float64) []float64 {
	share, sum := make([]float64, reachLeft+reachRight+1), 0.0
	for i := range share {
		x := float64(i-reachLeft) * placeStep * math.Sqrt(2/df)
		share[i] = math.Exp(df / 2 * (x - math.Expm1(x)))
		sum += share[i]
	}
	for i := range share {
		share[i] /= sum
	}
	return share
}

// chances fills chance; estimates below the lowest place count there.
func (r *calibration) chances() {
	for y := range r.y {
		row, all := make([]float64, len(r.y)), 0.0
		for d, c := range r.share {
			if z := max(y+d-reachLeft, 0); z < len(row) {
				row[z], all = row[z]+c, all+c
			}
		}
		for z := range row {
			row[z] /= all
		}
		r.chance = append(r.chance, row)
	}
}

// halfWidths are those of the mixture intervals for each place of the estimate.
func (r *calibration) halfWidths(sd, prior []float64) []float64 {
	out := make([]float64, len(r.y))
	for z := range out {
		var mix stat.Mixture
		sum := 0.0
		for y := range r.y {
			if d := z - y + reachLeft; d >= 0 && d < len(r.share) && r.share[d] > 1e-7 {
				mass := r.share[d] * prior[y]
				mix, sum = append(mix, stat.Normal{Mass: mass, SD: sd[y]}), sum+mass
			}
		}
		for i := range mix {
			mix[i].Mass /= sum
		}
		out[z] = mix.Quantile(0.975)
	}
	return out
}
