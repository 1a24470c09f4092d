package photo

import (
	"math"

	"leadmark/vision/synth/paint"
)

// frame gathers the parts of one picture.
type frame struct {
	*Set
	scene          *Scene
	flash, ambient float32      // exposure by each light
	subject, ghost *paint.Layer // the ruler in the flash's light, and in the other light
	shadow         *shadow
	twin           *exposure // by the second flash of a twin; nil for one flash
}

// exposure is what one of two flashes shows: the ruler where it then is, and its shadow.
type exposure struct {
	subject *paint.Layer
	shadow  *shadow
	share   float32 // of the light of both flashes
}

// compose lays the parts of one line over each other.
func (f *frame) compose(light []float32, y int) {
	f.flashRow(light, y)
	f.ambientRow(light, y)
	over(light, f.block, y, f.flash+f.ambient)
	f.vignette(light, y)
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
	ghost := f.ghost.Row(floorDiv(y))
	for x := range w {
		var g []float32
		if i := floorDiv(x); ghost != nil && i >= f.ghost.Rect.Min.X && i < f.ghost.Rect.Max.X {
			g = ghost[4*(i-f.ghost.Rect.Min.X):][:4]
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

// over lays one line of a layer, in light of strength k, over what is there.
func over(light []float32, l *paint.Layer, y int, k float32) {
	row := l.Row(y)
	if row == nil {
		return
	}
	low, high := max(0, l.Rect.Min.X), min(len(light)/3, l.Rect.Max.X)
	for x := low; x < high; x++ {
		p := row[4*(x-l.Rect.Min.X):][:4]
		if p[3] == 0 && p[0] == 0 {
			continue
		}
		o := light[3*x : 3*x+3 : 3*x+3]
		a := 1 - p[3]
		o[0], o[1], o[2] = o[0]*a+k*p[0], o[1]*a+k*p[1], o[2]*a+k*p[2]
	}
}

// row adds one line of the second exposure to that of the first: light adds up. Nothing for one flash.
func (e *exposure) row(f *frame, light []float32, y int) {
	if e == nil {
		return
	}
	w := f.cam.Width
	second := make([]float32, 3*w)
	for i, v := range f.back[3*w*y : 3*w*(y+1)] {
		second[i] = v * f.flash
	}
	e.shadow.row(second, y)
	over(second, e.subject, y, f.flash)
	for i, v := range second {
		light[i] = light[i]*(1-e.share) + v*e.share
	}
}
