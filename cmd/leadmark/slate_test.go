package main

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"

	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/makiuchi-d/gozxing/qrcode/encoder"

	"leadmark/vision/synth/jpegfile"
)

// photographSlate draws a slate held in front of the camera: a white card with its symbol, turned
// by 9 degrees, nearer on one side, grey, soft and noisy.
func photographSlate(path, text string) error {
	code, err := encoder.Encoder_encode(text, decoder.ErrorCorrectionLevel_Q, nil)
	if err != nil {
		return err
	}
	m := code.GetMatrix()
	n := float64(m.GetWidth())
	rnd := rand.New(rand.NewPCG(1, uint64(len(text))))
	im := image.NewRGBA(image.Rect(0, 0, 1632, 1088))
	sin, cos := math.Sincos(9 * math.Pi / 180)
	tone := func(x, y float64) float64 {
		x, y = x-816, y-544
		k := 1 + 0.0002*x
		u, v := (cos*x+sin*y)/k/430, (cos*y-sin*x)/k/430 // -1 to 1 over the card
		col, row := (u/0.8+1)/2*n, (v/0.8+1)/2*n
		switch {
		case math.Abs(u) > 1 || math.Abs(v) > 1:
			return 45
		case col < 0 || row < 0 || col >= n || row >= n || m.Get(int(col), int(row)) == 0:
			return 190
		}
		return 55
	}
	for y := range 1088 {
		for x := range 1632 {
			sum := 0.0
			for i := range 9 {
				sum += tone(float64(x)+float64(i%3-1), float64(y)+float64(i/3-1)) / 9
			}
			v := uint8(sum + 4*rnd.NormFloat64())
			im.SetRGBA(x, y, color.RGBA{v, v, v, 255})
		}
	}
	return jpegfile.Write(path, im, jpegfile.Exif{Make: "Greenhouse", Model: "Test camera", ISO: 200, FNumber: 11,
		Exposure: 0.005, Focal: 0.06, Orientation: 1}, 88)
}
