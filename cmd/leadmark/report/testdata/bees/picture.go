package bees

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"math"

	"leadmark/calib"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// Picture draws a frame's clips, at full size where they are to be looked at: a dim greenhouse, the
// ruler where the reading says.
func Picture(r calib.Result, full bool) func(context.Context, frame.Frame) (ruler.Clips, error) {
	by := map[string]calib.FrameResult{}
	for _, f := range r.Frames {
		by[f.Name] = f
	}
	return func(_ context.Context, f frame.Frame) (ruler.Clips, error) {
		g, ok := by[f.Name]
		if !ok {
			return ruler.Clips{}, errors.New("no such frame")
		}
		if !full { // drawn to be parsed, not to be looked at
			c := Clip(g, 20)
			return ruler.Clips{Large: c, Small: c}, nil
		}
		return ruler.Clips{Large: Clip(g, 2), Small: Clip(g, 4)}, nil
	}
}

// Clip is all of the frame, reduced.
func Clip(g calib.FrameResult, scale float64) ruler.Clip {
	m := image.NewRGBA(image.Rect(0, 0, int(width/scale), int(height/scale)))
	for y := range m.Rect.Dy() {
		for x := range m.Rect.Dx() {
			m.SetRGBA(x, y, colour((float64(x)+0.5)*scale-0.5, (float64(y)+0.5)*scale-0.5, g.FrontPX.Y, scale))
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		panic(err) // into memory
	}
	return ruler.Clip{Left: -0.5, Top: -0.5, Scale: scale, Width: m.Rect.Dx(), Height: m.Rect.Dy(), JPEG: b.Bytes()}
}

// colour is the tone of one place; soft is the size of a pixel of the reduced picture.
func colour(x, y, front, soft float64) color.RGBA {
	cover := func(d float64) float64 { return min(1, max(0, d/max(soft, 1.5)+0.5)) }
	tone := func(r, g, b float64) color.RGBA { return color.RGBA{uint8(r), uint8(g), uint8(b), 255} }
	blur := 14*math.Sin(x/310)*math.Cos(y/270) + 9*math.Sin(x/97+y/133)
	br, bg, bb := 38+blur, 58+1.4*blur, 40+0.6*blur
	body := cover(x-(axisX-40)) * cover(axisX+160-x) * cover(front-y)
	shade := 196 + 16*math.Sin((x-axisX)/60)
	if body > 0 {
		n := math.Round((front - y) / 8)
		length := 30.0
		switch {
		case math.Mod(n, 10) == 0:
			length = 80
		case math.Mod(n, 5) == 0:
			length = 55
		}
		ink := cover(0.9-math.Abs(front-y-8*n)) * cover(x-(axisX-40)) * cover(axisX-40+length-x)
		shade -= 150 * ink
	}
	return tone(br+(shade-br)*body, bg+(shade+2-bg)*body, bb+(shade-4-bb)*body)
}
