package vision

import (
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"leadmark/animal"
	"leadmark/animal/animaltest"
)

// study is what looking at many drawn frames came to.
type study struct {
	frames, found, wrongCount, wholeRight, emptyFrames, falseFinds int
	motionRight, motionAll, causeRight, causeAll                   int
	overlap, nose                                                  []float64
	ground int
}

func (s *study) look(t *testing.T, seed uint64, perSet int) {
	const w, h = 1200, 800
	hint := AnimalHint{Length: 0.19 * w, Travel: animal.Point{X: 1}}
	set := animaltest.Set(seed, w, h)
	empty := set
	empty.Seed = seed * 1000
	img, _ := cachedRender(empty, fmt.Sprintf("%d_e", seed))
	back := colourOf(img)
	scene := &Scene{k: sceneScale(w, h), w: w, h: h, back: back.reduced(sceneScale(w, h))}
	look := func(img *image.RGBA) animal.Sighting {
		got, err := scene.find(&photo{whole: colourOf(img), stored: image.Pt(w, h)}, hint)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	for i := range perSet {
		n := 1
		if i%5 == 4 {
			n = 2
		}
		draw := animaltest.Random(set, seed*1000+uint64(i)+1, n, i%4 == 3)
		img, truth := cachedRender(draw, fmt.Sprintf("%d_%d", seed, i))
		debugText = ""
		s.ground = int(set.Ground)
		got := look(img)
		s.judge(t, fmt.Sprintf("seed%d_%d", seed, i), img, draw, truth, got)
	}
	for i := range perSet/3 + 1 {
		none := set
		none.Seed, none.Gain = seed*1000+500+uint64(i), 1+0.05*math.Sin(float64(i))
		img, _ := cachedRender(none, fmt.Sprintf("%d_n%d", seed, i))
		s.emptyFrames++
		if got := look(img); len(got.Found) > 0 {
			s.falseFinds++
			save(t, fmt.Sprintf("false_%d_%d", seed, i), img, got)
		}
	}
}

func (s *study) judge(t *testing.T, name string, img *image.RGBA, draw animaltest.Scene, truth []animaltest.Truth, got animal.Sighting) {
	s.frames++
	if truth[0].Area < 400 { // next to nothing of it is in the picture
		s.frames--
		return
	}
	want := 0
	for _, tr := range truth {
		if tr.Area > 400 {
			want++
		}
	}
	if len(got.Found) != want {
		s.wrongCount++
		t.Logf("%s: %d animals, want %d (ground %d)", name, len(got.Found), want, draw.Ground)
		save(t, name, img, got)
	}
	if len(got.Found) == 0 {
		return
	}
	a, best := got.Found[0], 0.0
	for _, f := range got.Found {
		if o := overlap(f, truth[0], draw.Width, draw.Height); o > best {
			a, best = f, o
		}
	}
	if best > 0.3 {
		s.found++
	}
	s.overlap = append(s.overlap, best)
	if (len(a.Touches) > 0) == truth[0].Touches {
		s.wholeRight++
	} else {
		t.Logf("%s: touches %v, truth %v box %v", name, a.Touches, truth[0].Touches, truth[0].Box)
	}
	if !truth[0].Touches {
		e := math.Abs(a.Nose.X - truth[0].Front)
		s.nose = append(s.nose, e)
		if best < 0.85 || e > 6 {
			t.Logf("%s: overlap %.3f nose %.1f ground %d kind %d defocus %.1f tail %.1f shadow %.2f", name, best, e, draw.Ground, draw.Animals[0].Kind, draw.Animals[0].Defocus, draw.Animals[0].Tail, draw.Shadow)
			save(t, name, img, got)
		}
	}
	s.edges(t, name, a, draw.Animals[0], truth[0])
}

// edges judges the measured motion blur of whole animals, and which of motion and focus blurs more where the two clearly differ.
func (s *study) edges(t *testing.T, name string, a animal.Animal, drawn animaltest.Animal, truth animaltest.Truth) {
	if truth.Touches {
		return
	}
	s.motionAll++
	round, motion := 2.5631*drawn.Defocus, drawn.Tail*math.Ln10
	if a.Edges == nil {
		t.Logf("%s: edges not measured, blur %.2f, motion %.2f", name, drawn.Defocus, motion)
		return
	}
	if math.Abs(a.Edges.Motion-motion) < max(0.5, 0.15*motion) {
		s.motionRight++
	}
	ok := "bad"
	if math.Abs(a.Edges.Motion-motion) < max(0.5, 0.15*motion) {
		ok = "good"
	}
	t.Logf("edges %s %s: %s ground %d kind %d blur %.2f (%.2f) motion %.2f (%.2f)", ok, name, debugText, s.ground, drawn.Kind, a.Edges.Blur, drawn.Defocus, a.Edges.Motion, motion)
	debugText = ""
	if math.Hypot(round, motion) > 3 && math.Abs(math.Log(round/max(motion, 0.1))) > 0.2 {
		s.causeAll++
		if (2.5631*a.Edges.Blur > a.Edges.Motion) == (round > motion) {
			s.causeRight++
		}
	}
}

// overlap is the intersection of outline and truth over their union.
func overlap(a animal.Animal, t animaltest.Truth, w, h int) float64 {
	in := filled(a.Outline, w, h)
	both, any := 0, 0
	for i := range in {
		if in[i] && t.Mask[i] {
			both++
		}
		if in[i] || t.Mask[i] {
			any++
		}
	}
	return float64(both) / float64(max(1, any))
}

// filled is the inside of a polygon with its boundary, by crossings of each row.
func filled(p []animal.Point, w, h int) []bool {
	in := make([]bool, w*h)
	for y := range h {
		var xs []float64
		for i, b := range p {
			a := p[(i+len(p)-1)%len(p)]
			if (a.Y > float64(y)) != (b.Y > float64(y)) {
				xs = append(xs, a.X+(float64(y)-a.Y)/(b.Y-a.Y)*(b.X-a.X))
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			for x := max(0, int(math.Ceil(xs[i]))); x <= min(w-1, int(xs[i+1])); x++ {
				in[y*w+x] = true
			}
		}
	}
	for _, q := range p {
		in[int(q.Y)*w+int(q.X)] = true
	}
	return in
}

// save draws what was found, where LEADMARK_LOOK names a folder.
func save(t *testing.T, name string, img *image.RGBA, s animal.Sighting) {
	dir := os.Getenv("LEADMARK_LOOK")
	if dir == "" {
		return
	}
	for _, a := range s.Found {
		for _, p := range a.Outline {
			img.Set(int(p.X), int(p.Y), color.RGBA{255, 0, 255, 255})
		}
		for d := -8; d <= 8; d++ {
			img.Set(int(a.Nose.X)+d, int(a.Nose.Y), color.RGBA{255, 255, 0, 255})
			img.Set(int(a.Nose.X), int(a.Nose.Y)+d, color.RGBA{255, 255, 0, 255})
		}
	}
	f, err := os.Create(filepath.Join(dir, name+".png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}

// Animals drawn with known truth, on sets and frames no code was tuned to. The short form looks at a few; LEADMARK_STUDY=60 looks
// at 60 sets, 300 frames and 120 empty ones, and prints how the promises stand.
func TestFindDrawnAnimals(t *testing.T) {
	sets, first := 2, uint64(101)
	if n, err := strconv.Atoi(os.Getenv("LEADMARK_STUDY")); err == nil {
		sets, first = n, 1001
	}
	var s study
	for i := range sets {
		s.look(t, first+uint64(i), 5)
	}
	slices.Sort(s.overlap)
	slices.Sort(s.nose)
	overlap, nose := s.overlap[len(s.overlap)/2], s.nose[len(s.nose)/2]
	t.Logf("%d frames: an animal found in %d, other than drawn in number %d, whole or cut right %d; %d empty frames: false finds %d; overlap median %.3f, least %.3f; nose median %.2f px, 90 %% %.2f px",
		s.frames, s.found, s.wrongCount, s.wholeRight, s.emptyFrames, s.falseFinds, overlap, s.overlap[0], nose, s.nose[len(s.nose)*9/10])
	t.Logf("motion blur within 15 %% or 0.5 px in %d of %d; cause right in %d of %d", s.motionRight, s.motionAll, s.causeRight, s.causeAll)
	if 50*s.found < 49*s.frames || s.falseFinds > 0 || 50*s.wholeRight < 49*s.frames || overlap < 0.93 || nose > 2 {
		t.Error("a promise is broken")
	}
}

var debugText string
