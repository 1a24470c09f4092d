package camera

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"testing"
)

// coloured is a picture with soft colours and a hard edge, of no whole number of blocks.
func coloured() *image.RGBA {
	im := image.NewRGBA(image.Rect(0, 0, 203, 117))
	for y := range 117 {
		for x := range 203 {
			c := color.RGBA{uint8(40 + x), uint8(60 + y), uint8(128 + 60*math.Sin(float64(x)/30)), 255}
			if x > 100 && y > 50 {
				c.R, c.G = 20, 220
			}
			im.SetRGBA(x, y, c)
		}
	}
	return im
}

// Files are what the Go library's decoder says they are: the size, the thinning, the picture.
func TestJPEGReadsBack(t *testing.T) {
	for thin, want := range map[Thin]image.YCbCrSubsampleRatio{Thin420: image.YCbCrSubsampleRatio420,
		Thin422: image.YCbCrSubsampleRatio422} {
		for quality, most := range map[int]float64{60: 7, 95: 3} {
			im := coloured()
			var buf bytes.Buffer
			if err := (Camera{Thin: thin, Quality: quality}).Encode(&buf, im); err != nil {
				t.Fatal(err)
			}
			got, err := jpeg.Decode(&buf)
			if err != nil {
				t.Fatalf("%s at %d: %v", thin, quality, err)
			}
			y, ok := got.(*image.YCbCr)
			if !ok || y.SubsampleRatio != want || y.Rect != im.Rect {
				t.Fatalf("%s at %d: %T, %v of %v", thin, quality, got, y.SubsampleRatio, got.Bounds())
			}
			sum := 0.0
			for k := range 117 {
				for x := range 203 {
					a, _, _, _ := color.GrayModel.Convert(im.At(x, k)).RGBA()
					d := float64(a>>8) - float64(y.Y[y.YOffset(x, k)])
					sum += d * d
				}
			}
			if rms := math.Sqrt(sum / (117 * 203)); rms > most {
				t.Errorf("%s at %d: brightness is off by %.2f", thin, quality, rms)
			}
		}
	}
}

// grey is a picture of one light.
func grey(v float32, w, h int) *Light {
	l := NewLight(w, h)
	for k := range l.C {
		for i := range l.C[k] {
			l.C[k][i] = v
		}
	}
	return l
}

// The noise of even light is that of its electrons, as Noise says, and its mean stays.
func TestNoiseIsThatOfElectrons(t *testing.T) {
	s := Sensor{FullWell: 5000, Read: 6}
	v := s.expose(grey(0.3, 300, 300), func(int, int) int { return 1 }, 5)
	var sum, square float64
	for _, x := range v {
		sum, square = sum+float64(x), square+float64(x)*float64(x)
	}
	n := float64(len(v))
	mean := sum / n
	sd := math.Sqrt(square/n - mean*mean)
	want := math.Sqrt(0.3*5000+36) / 5000
	if math.Abs(mean-0.3) > 5*want/math.Sqrt(n) || math.Abs(sd/want-1) > 0.02 {
		t.Errorf("mean %.5f, spread %.5f; want 0.3, %.5f", mean, sd, want)
	}
}

// Demosaicing leaves even light and slopes as they are, away from the border.
func TestDemosaicing(t *testing.T) {
	const w, h = 40, 30
	for _, m := range []Mosaic{Bilinear, Directed} {
		raw := make([]float32, w*h)
		for y := range h {
			for x := range w {
				raw[y*w+x] = 0.2 + 0.01*float32(x) + 0.005*float32(y)
			}
		}
		l := m.fill(raw, w, h)
		for k := range l.C {
			for y := 4; y < h-4; y++ {
				for x := 4; x < w-4; x++ {
					if d := l.C[k][y*w+x] - raw[y*w+x]; abs(d) > 1e-5 {
						t.Fatalf("%s: colour %d at %d, %d is off by %g", m, k, x, y, d)
					}
				}
			}
		}
	}
}

// Each colour is filled in from its own pixels.
func TestColours(t *testing.T) {
	const w, h = 20, 16
	want := [3]float32{0.5, 0.3, 0.1}
	for _, m := range []Mosaic{Bilinear, Directed} {
		raw := make([]float32, w*h)
		for i := range raw {
			raw[i] = want[bayer(i%w, i/w)]
		}
		l := m.fill(raw, w, h)
		for k := range l.C {
			for i, v := range l.C[k] {
				if x, y := i%w, i/w; x > 3 && y > 3 && x < w-4 && y < h-4 && abs(v-want[k]) > 1e-5 {
					t.Fatalf("%s: colour %d at %d, %d is %.3f, want %.3f", m, k, x, y, v, want[k])
				}
			}
		}
	}
}

// A blurred edge has the blur's width and stays in its place.
func TestBlur(t *testing.T) {
	for _, down := range []bool{false, true} {
		l := grey(0, 80, 80)
		for i := range 80 * 80 {
			if x, y := i%80, i/80; down && y == 40 || !down && x == 40 {
				l.C[0][i] = 1
			}
		}
		l.Blur(Sigma{From: 2, To: 2, Down: down})
		var sum, mean, square float64
		for i := range 80 {
			v, d := float64(l.C[0][40*80+i]), float64(i-40)
			if down {
				v = float64(l.C[0][i*80+40])
			}
			sum, mean, square = sum+v, mean+v*d, square+v*d*d
		}
		if math.Abs(sum-1) > 1e-3 || math.Abs(mean) > 1e-3 || math.Abs(math.Sqrt(square)-2) > 0.05 {
			t.Errorf("down %v: sum %.4f, mean %.4f, spread %.3f", down, sum, mean, math.Sqrt(square))
		}
	}
	if s := (Sigma{From: 1, To: 3}).At(79, 0, 80, 80); s != 3 {
		t.Errorf("the blur at the right border is %v, want 3", s)
	}
}

// Sharpening leaves halos beside an edge and even parts alone.
func TestSharpening(t *testing.T) {
	l := grey(0.3, 60, 20)
	for i := range l.C[1] {
		if i%60 >= 30 {
			l.C[0][i], l.C[1][i], l.C[2][i] = 0.7, 0.7, 0.7
		}
	}
	Camera{Sharpen: 1, Radius: 1}.sharpen(l)
	row := l.C[1][600:660]
	if row[29] > 0.25 || row[30] < 0.75 || abs(row[5]-0.3) > 1e-5 || abs(row[55]-0.7) > 1e-5 {
		t.Errorf("beside the edge %.3f and %.3f, far from it %.3f and %.3f", row[29], row[30], row[5], row[55])
	}
}
