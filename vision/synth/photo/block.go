package photo

import (
	"math"

	"leadmark/vision/ruler"
	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/paint"
)

// Block is the nest block in whose face the exit is. Its face lies across the track.
type Block struct {
	Gap   float64 // m from the trip point back to the face
	Front bool    // stands before the ruler and hides it; else behind it
	Bore  float64 // m, diameter of the hole, seen as a dark slot where the face is turned a little to the camera
}

const (
	blockFace = 9 * mm   // width of the face as seen
	blockHalf = 45 * mm  // half its width across the track
	blockSoft = 0.2 * mm // softness of its edges
)

// paint draws the block as a layer.
func (b Block) paint(c Camera, t Track, light Flash, seed uint32) *paint.Layer {
	f := t.Basis()
	off := f.N.Mul(-14 * mm)
	if !b.Front {
		off = f.N.Mul(18 * mm)
	}
	base := t.Trip.Add(f.A.Mul(b.Gap)).Add(off)
	pl := placed{front: base, Basis: f, look: &looks.Look{}}
	pl.inv = inverse(f.A, f.B, base)
	var ps []ruler.Point
	for _, at := range [][2]float64{{0, -blockHalf}, {0, blockHalf}, {0.6, -blockHalf}, {0.6, blockHalf}} {
		ps = append(ps, c.Project(pl.point(at[0], at[1])))
	}
	r := bounds(c, ps, 8, 0)
	if r.Empty() {
		return nil
	}
	out := paint.NewLayer(r)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := out.Row(y)
		for x := r.Min.X; x < r.Max.X; x++ {
			rx, ry := c.ray(float64(x), float64(y))
			u, v, _ := pl.face(rx, ry)
			d := max(-u, math.Abs(v)-blockHalf)
			a := max(0, min(1, 0.5-d/blockSoft))
			if a == 0 {
				continue
			}
			col := b.colour(u, v, seed).Mul(a * light.Irradiance(pl.point(u, v), f.N, t.Trip))
			p := row[4*(x-r.Min.X):][:4]
			p[0], p[1], p[2], p[3] = float32(col.R), float32(col.G), float32(col.B), float32(a)
		}
	}
	return out
}

func (b Block) colour(u, v float64, seed uint32) paint.RGB {
	grain := paint.Noise(u/(30*mm), (v+2*mm*paint.Noise(u/(40*mm), v/(15*mm), seed))/(1.3*mm), seed+1)
	c := paint.RGB{R: 0.42, G: 0.27, B: 0.13}.Mul(1 + 0.2*grain)
	if u < blockFace { // the face: end grain, lit at a slant
		ring := paint.Cloud(u/(2*mm), v/(2*mm), 3, seed+2)
		c = paint.RGB{R: 0.33, G: 0.2, B: 0.1}.Mul(1 + 0.12*ring)
		// A round hole seen nearly edge-on is a narrow ellipse.
		e := math.Hypot((u-blockFace/2)/(0.3*blockFace), v/(b.Bore/2))
		c = c.Mul(0.06 + 0.94*max(0, min(1, (e-1)*8)))
	}
	if math.Abs(u-blockFace) < 0.25*mm {
		c = c.Mul(0.7)
	}
	return c
}

// hidden reports whether a layer hides a place of the picture.
func hidden(l *paint.Layer, p ruler.Point) bool { return l.Coverage(p) > 0.3 }
