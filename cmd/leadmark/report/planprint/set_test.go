package planprint

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	"image/png"
	"io"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/report/figure/drawing"
)

// planned is a plan of a preset with a small set.
func planned(t *testing.T, preset string) plan.Plan {
	t.Helper()
	s, err := subject.LoadPreset(preset, input.Overrides{})
	if err != nil {
		t.Fatal(err)
	}
	o := plan.DefaultOptions()
	o.Draws = 10_000
	p, err := plan.Make(plan.Request{Subject: s, Lag: predict.AssumedLag(0.052, 0.0008), Options: o, Rig: rig.Profile{
		Name:   "greenhouse",
		Camera: rig.Camera{Sensor: [2]float64{0.0235, 0.0156}, Pixels: [2]int{6000, 4000}, Sync: 0.005, ISO: 200},
		Lens:   rig.Lens{Focal: 0.1, FNumber: [2]float64{2.8, 32}},
		Flash: []rig.Head{{Name: "key", Lights: rig.Subject, GuideNumber: 40, Distance: 0.5,
			Range: [2]float64{1, 1.0 / 128}, T01: []rig.Duration{{Power: 1.0 / 64, Seconds: 45e-6}}},
			{Name: "edge", Lights: rig.Rim, GuideNumber: 30, Distance: 0.6}, {Lights: rig.Backdrop, GuideNumber: 30}},
	}})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The SVG is well-formed XML, stays inside its own frame, and its words do not lie over each other:
// a word is taken to be 0.56 em a character wide, as everywhere.
func TestDrawnSet(t *testing.T) {
	for _, preset := range subject.Presets() {
		p := planned(t, preset)
		svg, err := SVG(p)
		if err != nil {
			t.Fatal(err)
		}
		d := xml.NewDecoder(bytes.NewReader(svg))
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", preset, err)
			}
		}
		set := drawSet(p)
		if set.H > 2*set.W {
			t.Errorf("%s: %g px high, more than twice as high as wide", preset, set.H)
		}
		for _, it := range set.Items {
			for _, q := range it.Points {
				if q[0] < -1 || q[0] > set.W+1 || q[1] < -1 || q[1] > set.H+1 {
					t.Errorf("%s: %s %q at %v is outside the drawing of %g x %g", preset, it.Class, it.Text, q,
						set.W, set.H)
				}
			}
		}
		overlaps(t, preset, set)
	}
}

func overlaps(t *testing.T, name string, d *drawing.Drawing) {
	t.Helper()
	type box struct {
		x0, y0, x1, y1 float64
		text           string
	}
	var all []box
	for _, it := range d.Items {
		if it.Text == "" || it.Class == "mark" {
			continue
		}
		size := inks()[it.Class].Size
		w := 0.56 * size * float64(len([]rune(it.Text)))
		x := it.Points[0][0]
		switch it.Anchor {
		case "middle":
			x -= w / 2
		case "end":
			x -= w
		}
		b := box{x, it.Points[0][1] - 0.75*size, x + w, it.Points[0][1] + 0.2*size, it.Text}
		for _, c := range all {
			if b.x0 < c.x1 && c.x0 < b.x1 && b.y0 < c.y1 && c.y0 < b.y1 {
				t.Errorf("%s: %q lies over %q", name, b.text, c.text)
			}
		}
		all = append(all, b)
	}
}

// Both views are drawn to one scale: the reach is as wide in the side view as in the view from
// above, and its sides are in the proportion of its lengths.
func TestDrawnSetIsToScale(t *testing.T) {
	p := planned(t, "bush-cricket")
	var boxes [][][2]float64
	for _, it := range drawSet(p).Items {
		if it.Class == "reach" && len(it.Points) == 5 {
			boxes = append(boxes, it.Points)
		}
	}
	if len(boxes) != 3 {
		t.Fatalf("%d boxes", len(boxes))
	}
	size := func(b [][2]float64) (w, h float64) {
		for _, q := range b {
			w, h = max(w, q[0]-b[0][0], b[0][0]-q[0]), max(h, q[1]-b[0][1], b[0][1]-q[1])
		}
		return w, h
	}
	r := p.Reach
	along, up, depth := r.Along[1]-r.Along[0], r.Up[1]-r.Up[0], r.Depth[1]-r.Depth[0]
	for i, other := range []float64{up, depth, depth} {
		w, h := size(boxes[i])
		if d := w/along - h/other; d > 1e-6*w/along || d < -1e-6*w/along {
			t.Errorf("box %d is %g by %g px for %g by %g m", i, w, h, along, other)
		}
	}
	w0, _ := size(boxes[0])
	if w1, _ := size(boxes[1]); w0 != w1 {
		t.Errorf("the views have scales of %g and %g px", w0, w1)
	}
}

// The picture is a PNG that carries the mark of ours, light or dark, and what is drawn stands out
// from the paper.
func TestDrawnSetAsPicture(t *testing.T) {
	p := planned(t, "froghopper")
	for _, dark := range []bool{false, true} {
		data, err := PNG(p, dark)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains(data[:200], []byte("leadmark")) {
			t.Error("the picture does not carry the mark of the program")
		}
		img, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		paper := gray(img, 2, 2)
		if (paper < 128) != dark {
			t.Errorf("dark %v, but the paper is %d", dark, paper)
		}
		inked := 0
		for y := 0; y < img.Bounds().Dy(); y += 3 {
			for x := 0; x < img.Bounds().Dx(); x += 3 {
				if d := int(gray(img, x, y)) - int(paper); d > 90 || d < -90 {
					inked++
				}
			}
		}
		if inked < 3000 {
			t.Errorf("dark %v: only %d pixels stand out", dark, inked)
		}
	}
}

func gray(img image.Image, x, y int) uint8 {
	r, g, b, _ := img.At(x, y).RGBA()
	return uint8((299*r + 587*g + 114*b) / 1000 >> 8)
}

// The page says what could not be told, prints no number that is none, and no more than four digits
// of any length.
func TestSections(t *testing.T) {
	p := planned(t, "mason-bee")
	var b strings.Builder
	b.WriteString(Head(p).String() + Settings(p))
	for _, s := range Sections(p) {
		for _, l := range s.Lines {
			if l.Label == "" || l.Value == "" && l.Note == "" {
				t.Errorf("%s: an empty line %+v", s.Title, l)
			}
			if l.Key != "source" && l.Key != "draws" {
				b.WriteString("\n" + l.Label + ": " + l.Value + " (" + l.Note + ")")
			}
		}
	}
	text := b.String()
	for _, bad := range []string{"NaN", "Inf", "e-0", "-0 mm", "%!"} {
		if strings.Contains(text, bad) {
			t.Errorf("%q in\n%s", bad, text)
		}
	}
	for _, m := range regexp.MustCompile(`(\d+\.?\d*) (mm|m|µm|px)\b`).FindAllStringSubmatch(text, -1) {
		if digits := strings.TrimLeft(strings.Replace(m[1], ".", "", 1), "0"); len(digits) > 3 {
			t.Errorf("%s has more digits than anything here supports", m[0])
		}
	}
	if !strings.Contains(text, "duration not known") || !strings.Contains(text, "the rig does not state distance_mm") {
		t.Errorf("what is missing is not told:\n%s", text)
	}
	if n, err := strconv.Atoi(regexp.MustCompile(`ISO (\d+)`).FindStringSubmatch(text)[1]); err != nil || n < 50 {
		t.Errorf("ISO %d, %v", n, err)
	}
}

// The edge of the field ends where the panel does, and an upright one is whole or not there.
func TestBetween(t *testing.T) {
	for _, c := range []struct {
		a, b [2]float64
		want [][2]float64
	}{
		{[2]float64{0, 0}, [2]float64{10, 20}, [][2]float64{{2, 4}, {8, 16}}},
		{[2]float64{10, 20}, [2]float64{0, 0}, [][2]float64{{8, 16}, {2, 4}}},
		{[2]float64{3, 0}, [2]float64{5, 4}, [][2]float64{{3, 0}, {5, 4}}},
		{[2]float64{5, 0}, [2]float64{5, 4}, [][2]float64{{5, 0}, {5, 4}}},
		{[2]float64{9, 0}, [2]float64{9, 4}, nil},
		{[2]float64{9, 0}, [2]float64{12, 4}, nil},
	} {
		if got := between(c.a, c.b, 2, 8); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%v to %v: %v, not %v", c.a, c.b, got, c.want)
		}
	}
}
