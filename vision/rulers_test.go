package vision

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"leadmark/testdata"
	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
)

// truthFile holds the graduations of the photographs of real rulers, read by hand.
type truthFile struct {
	Images []struct {
		File     string
		Expected string
		Ends     []struct{ X, Y, Tol float64 } `json:"ruler_ends"`
		Scales   []struct {
			ZeroVisible bool `json:"zero_visible"`
			Graduations []struct{ X, Y, MM float64 }
		}
	}
}

func readTruth(t *testing.T) truthFile {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(testdata.Photographs(t, "rulers"), "truth.json"))
	if err != nil {
		t.Fatal(err)
	}
	var tf truthFile
	if err := json.Unmarshal(data, &tf); err != nil {
		t.Fatal(err)
	}
	return tf
}

// share is the share of the listed graduations placed within the larger of px pixels and mm
// millimetres along the ruler, readings compared up to a constant, and up to their sense where
// the reading does not claim to be absolute.
func share(r ruler.Reading, want []struct{ X, Y, MM float64 }, px, mm float64) (float64, bool) {
	if r.Status != ruler.StatusRead {
		return 0, false
	}
	best, absolute := 0, false
	tol := max(px, mm*r.PxPerM/1000)
	across := ruler.Line{B: r.Scale.MarkDir(0)}
	for _, sign := range []float64{1, -1} {
		votes := map[int]int{}
		for _, g := range want {
			at := ruler.Point{X: g.X, Y: g.Y}
			for have := range r.Graduations.All() {
				along := ruler.Line{A: at, B: at.Add(across.B)}
				if math.Abs(along.Distance(have.At)) <= tol {
					k := int(math.Round((have.Reading*1000 - sign*g.MM) * 10))
					votes[k]++
				}
			}
		}
		for k, n := range votes {
			if n > best {
				best, absolute = n, sign == 1 && k == 0
			}
		}
	}
	return float64(best) / float64(len(want)), absolute
}

// TestReadsRealRulers scores photographs of real rulers, taken by others, against graduations
// read by hand: at least the figure reached so far must be kept.
func TestReadsRealRulers(t *testing.T) {
	const leastShare, mostMissed = 0.97, 1
	tf := readTruth(t)
	readable, good := 0, 0
	for _, im := range tf.Images {
		r := readPhotograph(t, im.File)
		if im.Expected != "annotate" {
			t.Logf("%-24s must be refused: %s %s", im.File, r.Status, r.Reason)
			if r.Status == ruler.StatusRead {
				t.Errorf("%s shows no ruler's scale, but was read", im.File)
			}
			continue
		}
		readable++
		scale := im.Scales[0]
		part, absolute := share(r, scale.Graduations, 2, 0.08)
		t.Logf("%-24s %5.1f %% of %d graduations; %.2f px/mm, absolute %v (zero in the picture: %v) %s", im.File,
			100*part, len(scale.Graduations), r.PxPerM/1000, r.Absolute, scale.ZeroVisible, r.Reason)
		if part >= leastShare {
			good++
		}
		if r.Absolute && !absolute {
			t.Errorf("%s: readings claim to count from the ruler's zero, but do not", im.File)
		}
	}
	t.Logf("%d of %d photographs have at least %.0f %% of their graduations", good, readable, 100*leastShare)
	if good < readable-mostMissed {
		t.Errorf("%d of %d photographs were read, want all but %d", good, readable, mostMissed)
	}
}

func readPhotograph(t *testing.T, name string) ruler.Reading {
	t.Helper()
	f, refused := frame.Open(filepath.Join(testdata.Photographs(t, "rulers"), name))
	if refused != nil {
		t.Fatalf("%s: %s", name, refused)
	}
	s, err := NewLooker(native.Library{}).Look(context.Background(), f, ruler.Hint{})
	if err != nil {
		t.Fatal(err)
	}
	return reading.Interpret(s, ruler.Spec{})
}
