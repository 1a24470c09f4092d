package camera

// Mosaic is how colours are taken.
type Mosaic string

// The ways colours are taken: every pixel has all (a picture made small afterwards), or the mosaic
// is filled in as the mean of neighbours, or along edges (Hamilton and Adams, US 5629734, 1997).
const (
	Whole    Mosaic = "whole"
	Bilinear Mosaic = "bilinear"
	Directed Mosaic = "directed"
)

// fill makes three planes of a mosaic.
func (m Mosaic) fill(raw []float32, w, h int) *Light {
	l := NewLight(w, h)
	green := l.C[1]
	for y := range h {
		for x := range w {
			green[y*w+x] = m.greenAt(raw, w, h, x, y)
		}
	}
	// Red and blue as green plus the neighbours' mean difference from it; bilinear takes no green.
	for _, c := range []int{0, 2} {
		for y := range h {
			for x := range w {
				l.C[c][y*w+x] = m.otherAt(raw, green, w, h, x, y, c)
			}
		}
	}
	return l
}

func (m Mosaic) greenAt(raw []float32, w, h, x, y int) float32 {
	i := y*w + x
	if bayer(x, y) == 1 {
		return raw[i]
	}
	if x < 2 || y < 2 || x >= w-2 || y >= h-2 {
		return around(raw, w, h, x, y)
	}
	left, right, up, down := raw[i-1], raw[i+1], raw[i-w], raw[i+w]
	if m == Bilinear {
		return (left + right + up + down) / 4
	}
	bendX, bendY := 2*raw[i]-raw[i-2]-raw[i+2], 2*raw[i]-raw[i-2*w]-raw[i+2*w]
	dx, dy := abs(left-right)+abs(bendX), abs(up-down)+abs(bendY)
	switch {
	case dx < dy:
		return clip((left+right)/2 + bendX/4)
	case dy < dx:
		return clip((up+down)/2 + bendY/4)
	}
	return clip((left+right+up+down)/4 + (bendX+bendY)/8)
}

// around is the mean of the green neighbours that there are.
func around(raw []float32, w, h, x, y int) float32 {
	var sum, n float32
	for _, d := range [4][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
		if a, b := x+d[0], y+d[1]; a >= 0 && b >= 0 && a < w && b < h {
			sum, n = sum+raw[b*w+a], n+1
		}
	}
	return sum / n
}

// otherAt is red or blue at a pixel.
func (m Mosaic) otherAt(raw, green []float32, w, h, x, y, c int) float32 {
	i, p := y*w+x, c/2 // red pixels have even places, blue ones odd
	inColumn, inRow := x&1 == p, y&1 == p
	if inColumn && inRow {
		return raw[i]
	}
	var sum, n float32
	take := func(a, b int) {
		if a >= 0 && b >= 0 && a < w && b < h {
			k := b*w + a
			if sum += raw[k]; m == Directed {
				sum -= green[k]
			}
			n++
		}
	}
	switch {
	case inRow:
		take(x-1, y)
		take(x+1, y)
	case inColumn:
		take(x, y-1)
		take(x, y+1)
	default:
		take(x-1, y-1)
		take(x+1, y-1)
		take(x-1, y+1)
		take(x+1, y+1)
	}
	if m == Directed {
		return clip(green[i] + sum/n)
	}
	return sum / n
}

func abs(v float32) float32 { return max(v, -v) }

func clip(v float32) float32 { return min(1, max(0, v)) }
