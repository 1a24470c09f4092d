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
	for _, m := range Identify(row, r) {
		ofMarks = max(ofMarks, m.Evidence)
	}
	for _, p := range Patterns() {
		ofGaps = max(ofGaps, r.best(p.ofGaps()).Evidence)
	}
	return ofMarks, ofGaps
}

// Identify returns every pattern's best match.
func Identify(row ruler.Row, r *Lengths) []Match {
	var out []Match
	for _, p := range Patterns() {
		out = append(out, r.best(p))
	}
	if n, phase := TensAlone(row.Marks); n >= 3 {
		// Each line that falls on a ten by chance would do so once in ten.
		out[0].Phase, out[0].Evidence = phase, float64(n)*math.Log(10)
	}
	return out
}

// TensAlone counts the steps of ten at one end of a row, where a scale divided finely at its
// beginning goes on with its tens alone, and gives the index of one of them.
func TensAlone(marks []ruler.Mark) (n, phase int) {
	count := func(from, way int) int {
		k := 0
		for i := from; i+way >= 0 && i+way < len(marks) && way*(marks[i+way].Index-marks[i].Index) == 10; i += way {
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

// halfDoubt is what a graduation of twice the stated one loses, nats.
const halfDoubt = 10.0

// Believed returns the pattern of most evidence; of those of the stated graduation where one is
// stated, which then is its graduation.
func Believed(all []Match, spec ruler.Spec) Match {
	var best Match
	for _, m := range all {
		if spec.Graduation > 0 && !IsStated(m.Graduation, spec) {
			if m.Evidence -= halfDoubt; !m.halfSeen(spec) {
				continue
			}
		}
		if m.Evidence > best.Evidence {
			best = m
		}
	}
	return best.Stated(spec)
}
