package reading

import (
	"math"
	"slices"

	"leadmark/fit/stat"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

const (
	sureEnough       = 20.0 // nats, of sureness
	evenAtMost       = 11.0 // nats, of it that evenness can give
	chanceUnevenness = 0.12 // median deviation from a scale, in pitches, of a row followed by chance
)

// sureness is the evidence, in nats, that a row of marks is a ruler's, of two kinds. How even the
// marks stand, against the unevenness that letters, fabric and the like reach when a row is
// followed through them mark by mark, tells regular things from chance, but counts up to evenAtMost
// only: fences, keys, bricks and teeth are as even as rulers. Lines of different lengths in a
// ruler's order are what those lack. Over some 400 drawn patterns without a ruler the lengths never
// gave more than 6 nats, over readable rulers hardly less than 20.
func sureness(row ruler.Row, l *scale.ByIndex, m scale.Match) float64 {
	dev := make([]float64, 0, len(row.Marks))
	for i, k := range row.Marks {
		dev = append(dev, math.Abs(l.Residual[i])/l.Pitch(float64(k.Index)))
	}
	even := float64(len(row.Marks)) * math.Log(chanceUnevenness/max(0.005, stat.Median(slices.Clone(dev))))
	return min(evenAtMost, even) + m.Evidence + min(0, wholeness(row.Marks))
}

// wholeness is the evidence, in nats, of the lines seen and missing in a row's inside for its being
// printed, of which few are lost to scratches and glare, against a row followed by chance, which
// misses many.
func wholeness(marks []ruler.Mark) float64 {
	const lost, missed = 0.03, 0.2
	seen, expected := count(marks)
	return float64(seen)*math.Log((1-lost)/(1-missed)) + float64(expected-seen)*math.Log(lost/missed)
}

// likeSureness is the evidence, in nats, of a row's pitch and axis for being those of the other frames'
// ruler: the logarithm of how much likelier they are to agree so well than those of anything else,
// whose pitch may be any of 3 to 40 px and whose axis any.
func likeSureness(k *ruler.Like, row ruler.Row) float64 {
	const nearPitch, nearAxis = 0.05, 0.05 // relative; rad
	if k == nil || math.Abs(math.Log(row.Pitch/k.Pitch)) > nearPitch || math.Abs(row.Dir.Cross(k.Dir)) > nearAxis {
		return 0
	}
	return math.Log(math.Log(40.0/3)/(2*nearPitch)) + math.Log(math.Pi/(2*nearAxis))
}

// needed is how sure a row must be, in nats. A ruler whose divisions halve shows their lengths
// clearly, so that every line adds to its evidence: over drawn rulers never less than 1.9 nats a
// line in long rows, where lines of text and the like that happen to alternate gave 1.2 at most.
func needed(p scale.Pattern, lines int) float64 {
	const fewLines, everyLine = 20, 1.5
	if !p.Halves() {
		return sureEnough
	}
	return sureEnough + everyLine*float64(max(0, lines-fewLines))
}

// count is how many lines are seen and how many would be from the first to the last.
func count(marks []ruler.Mark) (seen, expected int) {
	seen, expected = 1, 1
	for i := 1; i < len(marks); i++ {
		gap := marks[i].Index - marks[i-1].Index
		seen++
		if gap == 10 { // some scales carry only their tens past the first of them
			gap = 1
		}
		expected += gap
	}
	return seen, expected
}
