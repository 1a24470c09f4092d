package reading

import (
	"math"
	"slices"

	"leadmark/fit/stat"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// sureness is the evidence, in nats, that a row of marks is a ruler's, of two kinds. How even the
// marks stand, against the unevenness that letters, fabric and the like reach when a row is
// followed through them mark by mark, tells regular things from chance, but counts up to evenAtMost
// only: fences, keys, bricks and teeth are as even as rulers. Lines of different lengths in a
// ruler's order are what those lack, and shortest lines as long as rulers have them.
func sureness(row ruler.Row, l *scale.ByIndex, m scale.Match) float64 {
	dev := make([]float64, 0, len(row.Marks))
	for i, k := range row.Marks {
		dev = append(dev, math.Abs(l.Residual[i])/l.Pitch(float64(k.Index)))
	}
	even := float64(len(row.Marks)) * math.Log(chanceUnevenness/max(leastUnevenness, stat.Median(slices.Clone(dev))))
	return min(evenAtMost, even) + m.Evidence + min(0, wholeness(row.Marks)) + min(0, m.Size)
}

// wholeness is the evidence, in nats, of the lines seen and missing in a row's inside for its being
// printed, of which few are lost to scratches and glare, against a row followed by chance, which
// misses many.
func wholeness(marks []ruler.Mark) float64 {
	seen, expected := count(marks)
	return float64(seen)*math.Log((1-lostLines)/(1-missedLines)) + float64(expected-seen)*math.Log(lostLines/missedLines)
}

// likeSureness is the evidence, in nats, of a row's pitch and axis for being those of the other frames'
// ruler: the logarithm of how much likelier they are to agree so well than those of anything else,
// whose pitch may be any of a range and whose axis any.
func likeSureness(k *ruler.Like, row ruler.Row) float64 {
	if k == nil || math.Abs(math.Log(row.Pitch/k.Pitch)) > likePitch || math.Abs(row.Dir.Cross(k.Dir)) > likeAxis {
		return 0
	}
	return math.Log(math.Log(coarsestPitch/finestPitch)/(2*likePitch)) + math.Log(math.Pi/(2*likeAxis))
}

// needed is how sure a row must be, in nats. A ruler whose divisions halve shows their lengths
// clearly, so that every line adds to its evidence.
func needed(p scale.Pattern, lines int) float64 {
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
		if gap == scale.Ten { // some scales carry only their tens past the first of them
			gap = 1
		}
		expected += gap
	}
	return seen, expected
}
