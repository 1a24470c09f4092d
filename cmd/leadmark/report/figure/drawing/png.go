package drawing

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"math"
	"strconv"

	"golang.org/x/image/font"

	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/style"
	"leadmark/vision/ruler"
)

// pngScale is how many pixels of the picture one of the drawing takes: enough for print at 200 dpi
// across a page.
const pngScale = 2

// PNG is the drawing as a picture, for light or for dark.
func (d *Drawing) PNG(dark bool) ([]byte, error) {
	colours, err := style.Palette(dark)
	if err != nil {
		return nil, err
	}
	p := painter{m: image.NewRGBA(image.Rect(0, 0, int(d.W*pngScale), int(d.H*pngScale))), colours: colours,
		inks: d.Inks, faces: map[float64]font.Face{}}
	defer p.close()
	for _, it := range d.Items {
		if err := p.paint(it); err != nil {
			return nil, err
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, p.m); err != nil {
		return nil, err
	}
	return signedPNG(b.Bytes()), nil
}

// signedPNG adds a tEXt chunk (PNG, 11.3.4.3) after the header, by which the file is known for one
// of ours.
func signedPNG(data []byte) []byte {
	const header = 8 + 25 // signature and IHDR
	chunk := append([]byte("tEXt"), "Software\x00leadmark drawn set"...)
	out := append([]byte{}, data[:header]...)
	out = binary.BigEndian.AppendUint32(out, uint32(len(chunk)-4))
	out = append(out, chunk...)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(chunk))
	return append(out, data[header:]...)
}

// painter paints items on a picture.
type painter struct {
	m       *image.RGBA
	colours map[string]string
	inks    map[string]Ink
	faces   map[float64]font.Face
}

func (p *painter) close() {
	for _, f := range p.faces {
		f.Close()
	}
}

func (p *painter) paint(it Item) error {
	k := p.inks[it.Class]
	pts := make([]ruler.Point, len(it.Points))
	for i, q := range it.Points {
		pts[i] = ruler.Point{X: q[0] * pngScale, Y: q[1] * pngScale}
	}
	if it.Text != "" {
		return p.write(it, k, pts[0])
	}
	if k.Fill != "" && len(pts) > 2 {
		fill(p.m, p.colour(k.Fill, k.Opacity), pts...)
	}
	if k.Stroke != "" {
		p.strokes(pts, k)
	}
	return nil
}

func (p *painter) strokes(pts []ruler.Point, k Ink) {
	c, w := p.colour(k.Stroke, 1), k.Width*pngScale
	if k.Dash {
		for _, part := range dashed(pts, (3*k.Width+2)*pngScale, (2*k.Width+2)*pngScale) {
			stroke(p.m, c, w, part[0], part[1])
		}
		return
	}
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		if b.Sub(a).Len() < 1e-9 {
			continue
		}
		half := b.Sub(a).Unit().Mul(min(w/2, 1.5)) // so that corners have no notch
		stroke(p.m, c, w, a.Sub(half), b.Add(half))
	}
}

// dashed cuts a line into dashes that run on around its corners.
func dashed(pts []ruler.Point, on, off float64) [][2]ruler.Point {
	var all [][2]ruler.Point
	at := 0.0 // along the pattern
	for i := 1; i < len(pts); i++ {
		a, l := pts[i-1], pts[i].Sub(pts[i-1]).Len()
		if l < 1e-9 {
			continue
		}
		dir := pts[i].Sub(a).Mul(1 / l)
		for s := 0.0; s < l-1e-9; {
			phase := math.Mod(at, on+off)
			step := on - phase
			if phase >= on-1e-9 {
				step = on + off - phase
			}
			step = min(max(step, 1e-6), l-s)
			if phase < on-1e-9 {
				all = append(all, [2]ruler.Point{a.Add(dir.Mul(s)), a.Add(dir.Mul(s + step))})
			}
			s, at = s+step, at+step
		}
	}
	return all
}

func (p *painter) write(it Item, k Ink, at ruler.Point) error {
	face, ok := p.faces[k.Size]
	if !ok {
		var err error
		if face, err = newFace(k.Size * pngScale); err != nil {
			return err
		}
		p.faces[k.Size] = face
	}
	text := phrase.Typeset(it.Text)
	width := float64(font.MeasureString(face, text)) / 64
	switch it.Anchor {
	case "middle":
		at.X -= width / 2
	case "end":
		at.X -= width
	}
	write(p.m, face, p.colour(k.Fill, 1), at, text)
	return nil
}

// colour reads "#rrggbb".
func (p *painter) colour(name string, opacity float64) color.RGBA {
	n, err := strconv.ParseUint(p.colours[name][1:], 16, 32)
	if err != nil {
		return color.RGBA{A: 255}
	}
	return color.RGBA{uint8(n >> 16), uint8(n >> 8), uint8(n), uint8(math.Round(255 * opacity))}
}
