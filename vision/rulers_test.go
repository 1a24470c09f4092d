package vision

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"leadmark/frame"
	"leadmark/ruler"
)

// rulersDir holds photographs of real rulers with hand-read graduations; its README says what
// and whose. They are read from there and never committed.
const rulersDir = "../../shared/rulers"

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
	data, err := os.ReadFile(filepath.Join(rulersDir, "truth.json"))
	if err != nil {
		t.Skip("the photographs of real rulers are not here:", err)
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
			for _, have := range r.Graduations {
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

func TestReadsRealRulers(t *testing.T) {
	tf := readTruth(t)
	for _, im := range tf.Images {
		s, err := Look(context.Background(), frame.Frame{Name: im.File, Path: filepath.Join(rulersDir, im.File), Orientation: 1}, ruler.Hint{})
		if err != nil {
			t.Fatal(err)
		}
		r := ruler.Interpret(s, ruler.Spec{})
		if im.Expected != "annotate" {
			t.Logf("%-28s %s %s n %d px/mm %.2f rms %.3f out %v unit %v", im.File, r.Status, r.Reason, len(r.Graduations), r.PxPerM/1000, r.Scale.ResidualPX, r.Outline, r.Unit)
			for _, w := range s.Rows {
				t.Logf("   row %d of %d pitch %.2f dark %v str %.2f", len(w.Marks), w.Marks[len(w.Marks)-1].Index-w.Marks[0].Index+1, w.Pitch, w.DarkMarks, w.Contrast)
			}
			continue
		}
		sh, abs := share(r, im.Scales[0].Graduations, 3, 0.1)
		t.Logf("%-28s %s %.3f abs %v (zero visible %v) unit %q g %.2f n %d px/mm %.2f rms %.2f front %v %v", im.File, r.Status, sh, abs, im.Scales[0].ZeroVisible, r.Unit, r.Graduation*1000, len(r.Graduations), r.PxPerM/1000, r.Scale.ResidualPX, r.Front, r.Reason)
	}
}
