package photo

import (
	"image"

	"leadmark/vision/synth/paint"
)

// develop turns light into numbers, line by line.
func (f *frame) develop() *image.RGBA {
	w, h := f.cam.Width, f.cam.Height
	im := image.NewRGBA(image.Rect(0, 0, w, h))
	curve := paint.Tone()
	noise := f.scene.Sensor.noiser(f.scene.Seed ^ f.scene.Shot*0x9E3779B97F4A7C15)
	light := make([]float32, 3*w)
	for y := range h {
		f.compose(light, y)
		out := im.Pix[y*im.Stride:][:4*w]
		for x := range w {
			r, g, b := noise.add(light[3*x], light[3*x+1], light[3*x+2])
			o := out[4*x : 4*x+4 : 4*x+4]
			o[0], o[1], o[2], o[3] = paint.Code(curve, r), paint.Code(curve, g), paint.Code(curve, b), 255
		}
	}
	return im
}
