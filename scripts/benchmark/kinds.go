package main

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"golang.org/x/image/draw"

	"leadmark/scripts/claim"
	"leadmark/vision/synth/collage"
	"leadmark/vision/synth/crops"
	"leadmark/vision/synth/runs"
)

// What is aimed at: calibrate beside djpeg, by the size of the frames.
const (
	mostAt24 = 1.25
	mostAt12 = 2.0
	mostAt6  = 3.0
)

func mostFor(megapixels float64) float64 {
	switch {
	case megapixels > 20:
		return mostAt24
	case megapixels > 9:
		return mostAt12
	}
	return mostAt6
}

// kinds of frames, each drawn into a folder by other means.
func (o options) kinds(s *claim.Study) error {
	w := painter{megapixels: o.megapixels, n: orElse(o.frames, 24), photographs: o.photographs}
	for _, k := range []struct {
		name string
		draw func(dir string) error
	}{
		{"own", w.own}, {"other", w.other}, {"photographs", w.semiReal}, {"repeated", w.repeated}, {"without", w.without},
	} {
		if len(o.kind) > 0 && !slices.Contains(o.kind, k.name) {
			continue
		}
		if err := o.timeKind(s, w, k.name, k.draw); err != nil {
			s.Failed(k.name, err)
		}
	}
	return nil
}

// timeKind draws a run of a kind, once, and times it beside djpeg.
func (o options) timeKind(s *claim.Study, w painter, name string, draw func(dir string) error) error {
	run, files, decode, err := o.besideDecoding(fmt.Sprintf("%s-%gMP-%d", name, w.megapixels, w.n), draw)
	if err != nil {
		return err
	}
	var read []float64
	t, err := turnAbout(orElse(o.turns, 5), func() (took, error) {
		t, share, err := o.calibrated(run, len(files))
		read = append(read, share)
		return t, err
	}, decode)
	if err != nil {
		return err
	}
	show(name+": share read, in the worst turn", claim.Quantile(0, read))
	show(name+": memory", most(t.a, peak).In("MB", 1))
	show(name+": a frame of calibrate, processor", middle(t.a, cpu).In("ms", float64(len(files))/1e3))
	s.Hold(fmt.Sprintf("%s, %d frames of %g megapixels: calibrate to djpeg", name, len(files), w.megapixels), t.ratio(cpu),
		claim.AtMost(mostFor(w.megapixels)))
	return nil
}

// painter draws runs of n frames of about so many megapixels.
type painter struct {
	megapixels  float64
	n           int
	photographs string // folder
}

// size is that of frames of 3 : 2.
func (p painter) size() (w, h int) {
	h = int(math.Sqrt(p.megapixels*1e6/1.5)) &^ 1
	return h * 3 / 2, h
}

func (p painter) own(dir string) error {
	r := benchRun(p.n)
	r.Width, r.Height = p.size()
	_, err := runs.WriteRun(dir, r)
	return err
}

// advances are those of drops from three heights at a lag of 22 ms, spread by half a millisecond, mm, and
// the heights.
func (p painter) advances() (heights, mm []float64) {
	r := rand.New(rand.NewPCG(5, 3))
	for i := range p.n {
		h := []float64{50, 100, 200}[i%3]
		v := math.Sqrt(2 * runs.Gravity * h / 1e3)
		heights, mm = append(heights, h), append(mm, 1e3*v*(0.022+0.0005*r.NormFloat64()))
	}
	return heights, mm
}

// other is a scene of package crops, which shares nothing with that of runs.
func (p painter) other(dir string) error {
	f, err := p.scene()
	if err != nil {
		return err
	}
	heights, mm := p.advances()
	return p.write(dir, f.Truth, heights, func(i int, out *bytes.Buffer) error {
		s := f.Scene.Moved(mm[i] - 30)
		return s.Camera.Encode(out, s.Draw())
	})
}

// scene is the first readable one of about the size.
func (p painter) scene() (crops.Frame, error) {
	for n := range uint64(2000) {
		f := crops.Sized(77, n, p.megapixels)
		s := &f.Scene
		alone := len(s.Covers) == 0 && len(s.Lighting.Shades) == 0 // these would go with the ruler
		if alone && s.Ruler.Wear < 0.3 && f.Truth.Scales[0].Readable && f.Truth.FrontRead && f.Truth.PxPerMM > 6 && f.Truth.Scales[0].StepMM == 1 {
			return f, nil
		}
	}
	return crops.Frame{}, errors.New("no readable scene was found")
}

// semiReal is photographed rulers over photographed ground, laid into a larger one of the same.
func (p painter) semiReal(dir string) error {
	set, err := collage.Load(p.photographs)
	if err != nil {
		return err
	}
	heights, mm := p.advances()
	for i := range mm {
		mm[i] -= 30
	}
	for n := range uint64(200) {
		first := set.At(12, n)
		if first.Truth.FrontRead && first.Truth.Scales[0].Readable {
			frames := set.Run(12, n, mm)
			w, h := p.size()
			if first.Scene.H > first.Scene.W {
				w, h = h, w
			}
			whole := image.NewRGBA(image.Rect(0, 0, w, h))
			ground := frames[0].Scene.Moved(-2000)
			far := ground.Draw()
			draw.CatmullRom.Scale(whole, whole.Rect, far, far.Rect, draw.Src, nil)
			return p.write(dir, first.Truth, heights, func(i int, out *bytes.Buffer) error {
				im := copyOf(whole)
				crop := frames[i].Scene.Draw()
				at := whole.Rect.Size().Sub(crop.Rect.Size()).Div(2)
				draw.Draw(im, crop.Rect.Add(at), crop, image.Point{}, draw.Src)
				grain(im, uint64(i))
				return encode(out, im)
			})
		}
	}
	return errors.New("no readable photograph was found")
}

// repeated is few frames over and over, each copy with noise of its own.
func (p painter) repeated(dir string) error {
	few := p
	few.n = min(p.n, 6)
	base := dir + ".base"
	defer os.RemoveAll(base)
	if err := few.own(base); err != nil {
		return err
	}
	return grown(base, dir, p.n)
}

// without shows no ruler at all.
func (p painter) without(dir string) error {
	f, err := p.scene()
	if err != nil {
		return err
	}
	heights, _ := p.advances()
	away := f.Scene.Moved(-1e5)
	ground := away.Draw()
	return p.write(dir, f.Truth, heights, func(i int, out *bytes.Buffer) error {
		im := copyOf(ground)
		grain(im, uint64(i))
		return encode(out, im)
	})
}

// copyOf is a picture of its own that shows the same.
func copyOf(im *image.RGBA) *image.RGBA {
	out := image.NewRGBA(im.Rect)
	copy(out.Pix, im.Pix)
	return out
}

// write writes a run of frames of which a scene's truth is known.
func (p painter) write(dir string, t crops.Truth, heights []float64, frame func(i int, out *bytes.Buffer) error) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	first := &t.Scales[0]
	travel := map[[2]float64]string{{1, 0}: "right", {-1, 0}: "left", {0, -1}: "up", {0, 1}: "down"}[[2]float64{t.Toward.X, t.Toward.Y}]
	var shots strings.Builder
	fmt.Fprintln(&shots, "frame,drop_mm,use")
	for i, h := range heights {
		name := fmt.Sprintf("IMG_%04d.JPG", i+1)
		fmt.Fprintf(&shots, "%s,%g,yes\n", name, h)
		var out bytes.Buffer
		if err := frame(i, &out); err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(dir, name), out.Bytes(), 0o666); err != nil {
			return err
		}
	}
	run := fmt.Sprintf("rig = \"greenhouse\"\nmethod = \"drop\"\ntravel = %q\n\n[ruler]\ngraduation_mm = %.6g\nfront_mm = %.6g\n\n"+
		"[conditions]\nu_drop_mm = 0.5\nu_drop_shot_mm = 0.4\nu_drop_common_mm = 0.5\n", travel, first.StepMM, first.FrontMM)
	return errors.Join(os.WriteFile(filepath.Join(dir, "run.toml"), []byte(run), 0o666),
		os.WriteFile(filepath.Join(dir, "shots.csv"), []byte(shots.String()), 0o666))
}

// grain adds a sensor's noise, in code values, the same in all channels.
func grain(im *image.RGBA, seed uint64) {
	const sd = 2.5
	r := rand.New(rand.NewPCG(seed, 11))
	for i := 0; i < len(im.Pix); i += 4 {
		d := sd * r.NormFloat64()
		for k := range 3 {
			im.Pix[i+k] = uint8(max(0, min(255, float64(im.Pix[i+k])+d)))
		}
	}
}

func encode(out *bytes.Buffer, im *image.RGBA) error {
	const quality = 95
	return jpeg.Encode(out, im, &jpeg.Options{Quality: quality})
}
