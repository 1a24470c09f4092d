package predict

// Sampler turns evenly spread numbers into values that follow a law. The law's quantile is kept as
// a table over the normal's, since millions are drawn: between its points lies a straight line, off
// by less than 1e-3 of the scale wherever 0.9999 of trips lie.
type Sampler struct {
	Law
	cuts  bool      // off at zero
	cut   float64   // share of the law that is cut off
	table []float64 // at z = k/tableStep - tableTo; nil for the normal
}

const (
	tableStep = 64
	tableTo   = 9 // no number drawn lies further out, where it has 52 bits
	tableFlat = 5 // beyond it 6e-7 of the trips lie, and the law is taken as it is there
)

// NewSampler draws from the whole of a law.
func NewSampler(l Law) Sampler { return Sampler{Law: l, table: l.table()} }

// NewCutSampler draws from a law cut off at zero.
func NewCutSampler(l Law) Sampler {
	return Sampler{Law: l, cuts: true, cut: l.BelowZero(), table: l.table()}
}

// Of draws from another law in the same way.
func (s Sampler) Of(l Law) Sampler {
	if l.DF != s.DF {
		s.table = l.table()
	}
	if s.Law = l; s.cuts {
		s.cut = l.BelowZero()
	}
	return s
}

// Draw is the value below which a share u of the draws lie, u in (0, 1).
func (s *Sampler) Draw(u float64) float64 {
	if !(s.Scale > 0) {
		return s.Mean
	}
	x := s.Mean + s.Scale*s.at(normalQuantile(s.cut+u*(1-s.cut)))
	if s.cuts {
		return max(x, 0) // the table may miss the cut by a hair
	}
	return x
}

// at is the standardised law's quantile at the normal's.
func (s *Sampler) at(z float64) float64 {
	if s.table == nil {
		return z
	}
	x := (z + tableTo) * tableStep
	k := int(x)
	return s.table[k] + (x-float64(k))*(s.table[k+1]-s.table[k])
}

func (l Law) table() []float64 {
	if l.DF == 0 || l.DF > 1e5 {
		return nil
	}
	const half = tableTo * tableStep
	b := make([]float64, 2*half+2)
	for k := 1; k <= half; k++ {
		t := b[half-k+1]
		if k <= tableFlat*tableStep {
			// The lower tail keeps its digits.
			t = l.StandardQuantile(normalCDF(-float64(k) / tableStep))
		}
		b[half-k], b[half+k] = t, -t
	}
	return b
}
