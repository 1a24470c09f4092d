package vision

import (
	"image"
	"math"
	"testing"

	"leadmark/vision/pixel"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
	"leadmark/vision/synth/crops"
)

// cropSeed is one on which the reader was developed: these frames hold what it learned there, and say
// nothing of how well it reads others. That is rulerstudy's to say, on a seed not looked at.
const cropSeed = 55012

// readCrop reads a drawn frame, told what its run would state.
func readCrop(f crops.Frame) ruler.Reading {
	first := &f.Truth.Scales[0]
	front := first.FrontMM / 1000
	return reading.Interpret(sight(native.Library{}, whole(luma(f.Scene.Draw())), ruler.Hint{}), ruler.Spec{
		Graduation: first.StepMM / 1000, Front: &front, Toward: ruler.Point{X: f.Truth.Toward.X, Y: f.Truth.Toward.Y}})
}

// luma is a picture's grey values as JPEG has them (ITU-T T.871).
func luma(im *image.RGBA) *pixel.Gray {
	g := pixel.NewGray(im.Rect.Dx(), im.Rect.Dy())
	for i := range g.Pix {
		p := im.Pix[4*i:]
		g.Pix[i] = uint8(math.Round(0.299*float64(p[0]) + 0.587*float64(p[1]) + 0.114*float64(p[2])))
	}
	return g
}

// offEnd is how far, px along the ruler, a front end was found from where it is.
func offEnd(r ruler.Reading, t crops.Truth) float64 {
	return math.Abs((r.Front.At.X-t.FrontAt.X)*t.Toward.X + (r.Front.At.Y-t.FrontAt.Y)*t.Toward.Y)
}

// Ends that the backdrop makes hard to see are found where the front is stated: where one corner is little
// worse than plain, where slats or weave are as uneven as the corner itself, and where numerals hide a part of
// the edge.
func TestEndsOnHardGround(t *testing.T) {
	for _, c := range []struct {
		class  string
		number uint64
		hard   string
	}{
		{"folding", 12, "one corner"}, {"few", 38, "one corner"},
		{"folding", 11, "uneven"}, {"mixed", 27, "uneven"},
		{"lines", 31, "numerals"}, {"dark", 3, "numerals"},
	} {
		f := crops.At(c.class, cropSeed, c.number)
		if r := readCrop(f); r.Front == nil || offEnd(r, f.Truth) > 1.5 {
			t.Errorf("%s %d (%s): the end lies at %.0f; found %+v (%v)", c.class, c.number, c.hard, f.Truth.FrontAt, r.Front, r.Reason)
		}
	}
}

// Yardsticks and rules of 2 and 5 mm have few lines, far apart and short: their long edges are not taken for
// them, and their ends are told from what lies close by.
func TestCoarseGraduations(t *testing.T) {
	const seed = 4411 // as cropSeed
	for number, hard := range map[uint64]string{11: "long edges", 23: "long edges", 57: "long edges", 4: "a shadow",
		30: "a shadow"} {
		f := crops.At("few", seed, number)
		if r := readCrop(f); r.Front == nil || offEnd(r, f.Truth) > 3 {
			t.Errorf("few %d (%s): the end lies at %.0f; found %+v (%v)", number, hard, f.Truth.FrontAt, r.Front, r.Reason)
		}
	}
}
