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
		ofMarks = max(ofMarks, m.Evidence)
	}
	for _, p := range Patterns() {
		ofGaps = max(ofGaps, r.best(p.ofGaps()).Evidence)
	}
	return ofMarks, ofGaps
}

// Identify returns every pattern's best match, of the rare ones that which is stated.
func Identify(row ruler.Row, r *Lengths, spec ruler.Spec) []Match {
	var out []Match
	for _, p := range Patterns() {
		out = append(out, r.best(p))
	}
	for _, p := range statable() {
		if spec.Graduation > 0 && IsStated(p.Graduation, spec) {
			out = append(out, r.best(p))
		}
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

// TellApart is by how many nats one pattern must be likelier than another for that to be out of the
// question.
const TellApart = 8.0

// Believed returns the pattern of most evidence; where a graduation is stated, the one that has it,
// which then is its graduation, or none where the lines are plainly another's.
func Believed(all []Match, spec ruler.Spec) Match {
	var best, stated Match
	for _, m := range all {
		if m.Evidence > best.Evidence {
			best = m
		}
		off := math.Abs(m.Graduation - spec.Graduation)
		if spec.Graduation > 0 && IsStated(m.Graduation, spec) && !(off > math.Abs(stated.Graduation-spec.Graduation)) {
			stated = m // half a millimetre is hardly shorter than a fiftieth of an inch
		}
	}
	if spec.Graduation == 0 {
		return best
	}
	// Who states a rare one has it.
	if !(stated.Evidence > 0) || best.Evidence > stated.Evidence+stated.Rare+TellApart {
		return Match{}
	}
	return stated.Stated(spec)
}
