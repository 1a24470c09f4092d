package collage

import (
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	_ "image/jpeg" // photographs are JPEG
	_ "image/png"  // or PNG
	"math"
	"os"
	"path/filepath"
)

// photograph is a picture in linear light, with its halves.
type photograph struct {
	w, h   int // px of the whole
	first  int // levels before this one are not kept: more than there is use for
	levels []level
}

type level struct {
	w, h int
	pix  [][3]uint16 // light of 65535
}

// mostKept is how many pixels a photograph may have to be kept whole.
const mostKept = 8e6

// load reads a photograph as displayed; turned says that its orientation tag is 8.
func load(path string, turned bool) (*photograph, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	im, _, err := image.Decode(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	l := inLight(im)
	if turned {
		l = l.turned()
	}
	p := &photograph{w: l.w, h: l.h, levels: []level{l}}
	for l.w > 200 && l.h > 200 && len(p.levels) < 6 {
		l = l.half()
		p.levels = append(p.levels, l)
	}
	if p.w*p.h > mostKept {
		p.first, p.levels[0].pix = 1, nil
	}
	return p, nil
}

// inLight takes the curve of sRGB off.
func inLight(im image.Image) level {
	var curve [256]uint16
	for i := range curve {
		v := float64(i) / 255
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		curve[i] = uint16(65535 * v)
	}
	b := im.Bounds()
	l := level{w: b.Dx(), h: b.Dy(), pix: make([][3]uint16, b.Dx()*b.Dy())}
	at := func(x, y int) (r, g, b uint8) {
		c := color.NRGBAModel.Convert(im.At(x, y)).(color.NRGBA)
		return c.R, c.G, c.B
	}
	if y, ok := im.(*image.YCbCr); ok {
		at = func(i, k int) (r, g, b uint8) {
			o := y.COffset(i, k)
			return color.YCbCrToRGB(y.Y[y.YOffset(i, k)], y.Cb[o], y.Cr[o])
		}
	}
	for y := range l.h {
		for x := range l.w {
			r, g, bl := at(b.Min.X+x, b.Min.Y+y)
			l.pix[y*l.w+x] = [3]uint16{curve[r], curve[g], curve[bl]}
		}
	}
	return l
}

// turned is displayed upright: the stored first row is the displayed left column, from below.
func (l level) turned() level {
	out := level{w: l.h, h: l.w, pix: make([][3]uint16, len(l.pix))}
	for y := range out.h {
		for x := range out.w {
			out.pix[y*out.w+x] = l.pix[x*l.w+l.w-1-y]
		}
	}
	return out
}

// half is the mean of four pixels each.
func (l level) half() level {
	out := level{w: l.w / 2, h: l.h / 2}
	out.pix = make([][3]uint16, out.w*out.h)
	for y := range out.h {
		for x := range out.w {
			o := 2*y*l.w + 2*x
			for k := range 3 {
				sum := uint32(l.pix[o][k]) + uint32(l.pix[o+1][k]) + uint32(l.pix[o+l.w][k]) + uint32(l.pix[o+l.w+1][k])
				out.pix[y*out.w+x][k] = uint16(sum / 4)
			}
		}
	}
	return out
}

// at is the light at a place of the whole picture, where so many of its px make one to be drawn.
func (p *photograph) at(x, y, px float64) [3]float32 {
	n := 0
	for (px >= 1.6 || n < p.first) && n < len(p.levels)-1 {
		n++
		px /= 2
	}
	k := float64(int(1) << n)
	return p.levels[n].at((x+0.5)/k-0.5, (y+0.5)/k-0.5)
}

// at is bilinear; beyond the border the last pixel goes on.
func (l *level) at(x, y float64) (c [3]float32) {
	x, y = min(max(x, 0), float64(l.w-1)-1e-6), min(max(y, 0), float64(l.h-1)-1e-6)
	i, k := int(x), int(y)
	tx, ty := float32(x-float64(i)), float32(y-float64(k))
	o := k*l.w + i
	i1, k1 := 1, l.w
	for n := range c {
		a := float32(l.pix[o][n]) + tx*(float32(l.pix[o+i1][n])-float32(l.pix[o][n]))
		b := float32(l.pix[o+k1][n]) + tx*(float32(l.pix[o+k1+i1][n])-float32(l.pix[o+k1][n]))
		c[n] = (a + ty*(b-a)) / 65535
	}
	return c
}

// truthFile is what is used of truth.json.
type truthFile struct{ Images []truthImage }

type truthImage struct {
	File   string
	Scales []struct {
		Unit        string
		Spacing     float64 `json:"graduation_spacing_mm"`
		Graduations []struct{ X, Y, MM float64 }
	}
}

func readTruth(folder string) (t truthFile, err error) {
	data, err := os.ReadFile(filepath.Join(folder, "truth.json"))
	if err != nil {
		return t, err
	}
	if err := json.Unmarshal(data, &t); err != nil {
		return t, fmt.Errorf("%s: %w", folder, err)
	}
	return t, nil
}
