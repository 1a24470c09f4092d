package runs

import (
	"image"
	"math"

	"leadmark/vision/ruler"
)

// coarse is how many pixels of the picture one pixel of a ghost spans.
const coarse = 4

// ghost returns the layer a quarter as large and smeared along way (px), a fifth of it before and
// the rest after the flash: what a lasting light records of a ruler that moves on.
func (l *layer) ghost(way ruler.Point) *layer {
	r := image.Rect(floorDiv(l.rect.Min.X), floorDiv(l.rect.Min.Y), floorDiv(l.rect.Max.X-1)+1,
		floorDiv(l.rect.Max.Y-1)+1)
	sx, sy := int(math.Abs(way.X)/coarse)+2, int(math.Abs(way.Y)/coarse)+2
	out := newLayer(image.Rect(r.Min.X-sx, r.Min.Y-sy, r.Max.X+sx, r.Max.Y+sy))
	for y := l.rect.Min.Y; y < l.rect.Max.Y; y++ {
		in, to := l.row(y), out.row(floorDiv(y))
		for x := l.rect.Min.X; x < l.rect.Max.X; x++ {
			o := to[4*(floorDiv(x)-out.rect.Min.X):][:4]
			for c, v := range in[4*(x-l.rect.Min.X):][:4] {
				o[c] += v / (coarse * coarse)
			}
		}
	}
	n := int(way.Len()/coarse) + 2
	path := make([]ruler.Point, n)
	for i := range path {
		path[i] = way.Mul((float64(i)/float64(n-1) - 0.2) / coarse)
	}
	out.smear(splat(path))
	return out
}

func floorDiv(x int) int {
	if x < 0 {
		return -((-x + coarse - 1) / coarse)
	}
	return x / coarse
}

// compose lays the parts of one line over each other.
func (f *frame) compose(light []float32, y int) {
	f.flashRow(light, y)
	f.ambientRow(light, y)
	over(light, f.block, y, f.flash+f.ambient)
	f.vignette(light, y)
}

// develop turns light into numbers, line by line.
func (f *frame) develop() *image.RGBA {
	w, h := f.cam.Width, f.cam.Height
	im := image.NewRGBA(image.Rect(0, 0, w, h))
	curve := tone()
	noise := f.scene.Sensor.noiser(f.scene.Seed ^ f.scene.Shot*0x9E3779B97F4A7C15)
	light := make([]float32, 3*w)
	for y := range h {
		f.compose(light, y)
		out := im.Pix[y*im.Stride:][:4*w]
		for x := range w {
			r, g, b := noise.add(light[3*x], light[3*x+1], light[3*x+2])
			o := out[4*x : 4*x+4 : 4*x+4]
			o[0], o[1], o[2], o[3] = code(curve, r), code(curve, g), code(curve, b), 255
		}
	}
	return im
}

// flashRow puts down what the flash shows: backdrop, shadow, ruler.
func (f *frame) flashRow(light []float32, y int) {
	w := f.cam.Width
	back := f.back[3*w*y : 3*w*(y+1)]
	for i, v := range back {
		light[i] = v * f.flash
	}
	if f.flash == 0 {
		return
	}
	f.shadow.row(light, y)
	over(light, f.subject, y, f.flash)
	f.twin.row(f, light, y)
}

// ambientRow adds what the lasting light shows: the backdrop but where the ruler passed.
func (f *frame) ambientRow(light []float32, y int) {
	if f.ambient == 0 {
		return
	}
	w := f.cam.Width
	back := f.back[3*w*y : 3*w*(y+1)]
	ghost := f.ghost.row(floorDiv(y))
	for x := range w {
		var g []float32
		if i := floorDiv(x); ghost != nil && i >= f.ghost.rect.Min.X && i < f.ghost.rect.Max.X {
			g = ghost[4*(i-f.ghost.rect.Min.X):][:4]
		}
		for c := range 3 {
			v := back[3*x+c]
			if g != nil {
				v = v*(1-g[3]) + g[c]
			}
			light[3*x+c] += f.ambient * v
		}
	}
}

// over lays one line of a layer, in light of strength k, over what is there.
func over(light []float32, l *layer, y int, k float32) {
	row := l.row(y)
	if row == nil {
		return
	}
	low, high := max(0, l.rect.Min.X), min(len(light)/3, l.rect.Max.X)
	for x := low; x < high; x++ {
		p := row[4*(x-l.rect.Min.X):][:4]
		if p[3] == 0 && p[0] == 0 {
			continue
		}
		o := light[3*x : 3*x+3 : 3*x+3]
		a := 1 - p[3]
		o[0], o[1], o[2] = o[0]*a+k*p[0], o[1]*a+k*p[1], o[2]*a+k*p[2]
	}
}

// vignette darkens one line towards the corners.
func (f *frame) vignette(light []float32, y int) {
	if f.scene.Sensor.Vignette == 0 {
		return
	}
	c := f.cam
	corner := float64(c.Width*c.Width+c.Height*c.Height) / 4
	dy := float64(y) - float64(c.Height-1)/2
	const cell = 8 // the loss changes slowly
	var k float32
	for x := range c.Width {
		if x%cell == 0 {
			dx := float64(x+cell/2) - float64(c.Width-1)/2
			k = float32(math.Exp2(-f.scene.Sensor.Vignette * (dx*dx + dy*dy) / corner))
		}
		light[3*x] *= k
		light[3*x+1] *= k
		light[3*x+2] *= k
	}
}
