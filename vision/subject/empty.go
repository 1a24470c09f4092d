package subject

import (
	"image"
	"slices"

	"leadmark/fit/stat"
	"leadmark/vision/frame"
	"leadmark/vision/pixel"
)

// ofUsualSize are the frames of the size that most have.
func ofUsualSize(frames []frame.Frame) []frame.Frame {
	count := map[image.Point]int{}
	var usual image.Point
	for _, f := range frames {
		size := image.Pt(f.Width, f.Height)
		if count[size]++; count[size] > count[usual] {
			usual = size
		}
	}
	return slices.DeleteFunc(slices.Clone(frames), func(f frame.Frame) bool {
		return f.Width != usual.X || f.Height != usual.Y
	})
}

// agreed is, at each pixel, the mean of the frames in the shortest range of brightness that holds
// two fifths of them: the set is the same in all, what an animal shows there differs.
func agreed(all []*pixel.Colour) *pixel.Colour {
	levelled(all)
	o := pixel.NewColour(all[0].W, all[0].H)
	n := len(all)
	need := max(3, 2*n/5)
	type tone struct {
		y int32
		i int32
	}
	order := make([]tone, n)
	for p := range o.W * o.H {
		for i, c := range all {
			q := c.Pix[3*p : 3*p+3 : 3*p+3]
			order[i] = tone{int32(q[0])*3 + int32(q[1])*5 + int32(q[2])*4, int32(i)}
		}
		for i := 1; i < n; i++ {
			for j := i; j > 0 && order[j].y < order[j-1].y; j-- {
				order[j], order[j-1] = order[j-1], order[j]
			}
		}
		best := 0
		for a := 1; a+need <= n; a++ {
			if order[a+need-1].y-order[a].y < order[best+need-1].y-order[best].y {
				best = a
			}
		}
		var s [3]int
		for _, t := range order[best : best+need] {
			for c := range s {
				s[c] += int(all[t.i].Pix[3*p+c])
			}
		}
		for c := range s {
			o.Pix[3*p+c] = uint8((s[c] + need/2) / need)
		}
	}
	return o
}

// levelled takes the flash's differences from frame to frame out of the pictures.
func levelled(all []*pixel.Colour) {
	ref := all[len(all)/2]
	for _, c := range all {
		if c != ref {
			g := gains(ref, c)
			for k := range g {
				g[k] = 1 / g[k]
			}
			t := toneTables(g)
			for i := range c.Pix {
				c.Pix[i] = t[i%3][c.Pix[i]]
			}
		}
	}
}

// gains are by how much the light of a picture is the set's, by channel: the median over pixels
// that are not dark, told in the medians of three channels where one is too dark to tell.
func gains(back, c *pixel.Colour) [3]float64 {
	var g [3]float64
	known := 1.0
	step := 3 * (1 + len(back.Pix)/3/20000)
	var list []float64
	for k := range g {
		list = list[:0]
		for i := k; i < len(back.Pix); i += step {
			if b := back.Pix[i]; b > 40 && b < 250 && c.Pix[i] < 250 {
				list = append(list, pixel.Light(c.Pix[i])/pixel.Light(b))
			}
		}
		if len(list) > 200 {
			g[k] = max(0.25, min(4, stat.Median(list)))
			known = g[k]
		}
	}
	for k := range g {
		if g[k] == 0 {
			g[k] = known
		}
	}
	return g
}

// toneTables turn tones into those in light so many times as strong.
func toneTables(g [3]float64) (t [3][256]uint8) {
	for k := range t {
		for v := range 256 {
			t[k][v] = pixel.Tone(pixel.Light(uint8(v)) * g[k])
		}
	}
	return t
}
