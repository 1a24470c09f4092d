package crops

import (
	"image"
	"math"
	"sort"

	"leadmark/vision/synth/camera"
	"leadmark/vision/synth/plane"
	"leadmark/vision/synth/texture"
)

// Without is one picture in which there is no ruler.
type Without struct {
	Kind   string
	Camera camera.Camera
	w, h   int
	field  texture.Field
	seed   uint64
}

// WithoutAt is picture number so and so without a ruler at a seed; kinds come by turns.
func WithoutAt(seed, number uint64) Without {
	l := texture.NewLot(seed^0x9e3779b97f4a7c15, number)
	all := texture.Decoys()
	names := make([]string, 0, len(all))
	for n := range all {
		names = append(names, n)
	}
	sort.Strings(names)
	kind := names[int(number)%len(names)]
	p := posed{l: l, pitch: l.Ratio(5, 50)}
	p.W, p.H, p.long = int(l.Span(700, 1500)), int(l.Span(400, 800)), 1200
	p.Travel = "right"
	p.Ruler.Scales = []Scale{{Step: 1}}
	p.Lighting.Level = 1
	p.take("plain")
	steep := 35 * degree
	if l.Chance(0.5) {
		steep = 5 * degree
	}
	back := plane.Pose{Centre: plane.Point{X: float64(p.W) / 2, Y: float64(p.H) / 2}, PxPerMM: p.pitch,
		Distance: float64(p.W) / p.pitch * l.Span(1.5, 4), Yaw: l.Span(-steep, steep), Tilt: l.Span(-steep, steep),
		Turn: l.Span(-math.Pi, math.Pi)}.Map().Inverse()
	if l.Chance(0.5) {
		back = plane.Pose{Centre: plane.Point{X: float64(p.W) / 2, Y: float64(p.H) / 2}, PxPerMM: p.pitch,
			Distance: 1e6, Turn: math.Round(l.Span(-2, 2))*math.Pi/2 + l.Span(-3, 3)*degree}.Map().Inverse()
	}
	f := all[kind](l)
	light := l.Ratio(0.3, 1.4)
	tilt := l.Span(-0.5, 0.5)
	field := func(x, y float64) texture.Colour {
		q := back.At(plane.Point{X: x, Y: y})
		return f(q.X, q.Y).Times(light * max(0.05, 1+tilt*(x/float64(p.W)-0.5)))
	}
	return Without{Kind: kind, Camera: p.Camera, w: p.W, h: p.H, field: field, seed: seed + number}
}

// Draw draws the picture.
func (w Without) Draw() *image.RGBA {
	l := camera.NewLight(w.w, w.h)
	for y := range w.h {
		for x := range w.w {
			c, i := w.field(float64(x), float64(y)), y*w.w+x
			l.C[0][i], l.C[1][i], l.C[2][i] = c[0], c[1], c[2]
		}
	}
	return w.Camera.Take(l, w.seed)
}
