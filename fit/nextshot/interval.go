package nextshot

import "leadmark/fit/mixed"

// Interval is where the next value of unknown j, that of one more shot, falls with 95 % probability:
// the mixture's interval, stretched by what its calibration says.
func Interval(p *mixed.Posterior, j int) (low, high float64) {
	mix, at := p.Column(j, 1), p.Theta[j]+p.Valued.Step[j]
	factor := stretchOf(p.Model, j, p.Best)
	return at - factor*(at-mix.Quantile(0.025)), at + factor*(mix.Quantile(0.975)-at)
}
