package scale

import (
	"math"

	"leadmark/vision/ruler"
)

// Orders are the evidence, in nats, that the lengths of what was followed along a row are those of
// marks in a ruler's order, and that they are those of the gaps between such marks, of which two
// seem long beside each longer mark; each against their being alike. pitch is the median distance of
// neighbours, px.
func Orders(followed []ruler.Mark, pitch float64) (ofMarks, ofGaps float64) {
	ofMarks, ofGaps = math.Inf(-1), math.Inf(-1)
	l, ok := Fit(followed)
	if !ok {
		return ofMarks, ofGaps
	}
	row := ruler.Row{Marks: followed, Pitch: pitch}
	r := LengthsOf(row, &l)
	for _, m := range Identify(row, r, ruler.Spec{}) {
		if !m.beside {
			ofMarks = max(ofMarks, m.Evidence)
		}
	}
	for _, p := range Patterns() {
		ofGaps = max(ofGaps, r.best(p.ofGaps()).Evidence)
	}
	return ofMarks, ofGaps
}

// Identify returns every pattern's best match.
func Identify(row ruler.Row, r *Lengths, spec ruler.Spec) []Match {
	var out []Match
	for _, p := range trade() {
		stated := spec.Graduation > 0 && IsStated(p.Graduation, spec)
		if stated {
			p.Rare = 0 // the ruler has it
		}
		m := r.best(p)
		if row.HalfLength > 0 && !stated {
			m.Size = sizeEvidence(2 * row.HalfLength / row.Pitch * p.Graduation)
		}
		out = append(out, m)
	}
	if n, phase := TensAlone(row.Marks); n >= FewestTens {
		// Each line that falls on a ten by chance would do so once in ten.
		out[0].Phase, out[0].Evidence = phase, float64(n)*math.Log(Ten)
	}
	return out
}

// TensAlone counts the steps of ten at one end of a row, where a scale divided finely at its
// beginning goes on with its tens alone, and gives the index of one of them.
func TensAlone(marks []ruler.Mark) (n, phase int) {
	count := func(from, way int) int {
		k := 0
		for i := from; i+way >= 0 && i+way < len(marks) && way*(marks[i+way].Index-marks[i].Index) == Ten; i += way {
			k++
		}
		return k
	}
	last := len(marks) - 1
	if k := count(last, -1); k > 0 {
		return k, marks[last].Index
	}
	return count(0, +1), marks[0].Index
}

// Believed returns the pattern of most evidence; where a graduation is stated, the one that has it,
// which then is its graduation, or none where the lines are plainly another's.
func Believed(all []Match, spec ruler.Spec) Match {
	var best, stated Match
	for _, m := range all {
		if (!m.beside || spec.Graduation > 0) && m.Total() > best.Total() {
			best = m
		}
		if spec.Graduation == 0 || !IsStated(m.Graduation, spec) {
			continue
		}
		// Half a millimetre is hardly shorter than a fiftieth of an inch, which may be divided in two ways.
		off, had := math.Abs(m.Graduation-spec.Graduation), math.Abs(stated.Graduation-spec.Graduation)
		if off < had || off == had && m.Total() > stated.Total() {
			stated = m
		}
	}
	if spec.Graduation == 0 {
		return best
	}
	if !(stated.Evidence > 0) || best.Total() > stated.Total()+TellApart {
		return Match{}
	}
	return stated.Stated(spec)
}

// Total is all that is known of a match, nats.
func (m Match) Total() float64 { return m.Evidence + m.Size + m.Beside }

// sizeEvidence is how much rarer, in nats, rulers are whose shortest lines are so long, m, than those of
// the usual length.
func sizeEvidence(short float64) float64 {
	z := math.Log(short/shortLine) / shortLineSD
	return -0.5 * z * z
}
