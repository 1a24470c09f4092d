package tiles

import (
	"math"

	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// tile is a small square whose spectrum has one strong regular pitch.
type tile struct {
	level    int
	col, row int         // place in the level's grid of tiles
	at       ruler.Point // centre, px of the picture
	dir      ruler.Point // unit vector along the axis, either way
	pitch    float64     // px of the picture
	share    float64     // of the tile's power that the pitch holds
	power    float64
}

// tileFinder holds the work space of one level's search.
type tileFinder struct {
	fft    *fft
	win    [Side][Side]float32
	tile   [Side][Side]float32
	pow    [Side][Side/2 + 1]float32
	spikes []spike
}

func newTileFinder() *tileFinder {
	f := &tileFinder{fft: newFFT()}
	hann := func(i int) float64 { return 0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/Side) }
	for j := range f.win {
		for i := range f.win[j] {
			f.win[j][i] = float32(hann(i) * hann(j))
		}
	}
	return f
}

// find returns the tiles of one level.
func (f *tileFinder) find(p pixel.Pyramid, level int, h ruler.Hint) []tile {
	g, s := p.Levels[level], p.Scale(level)
	var found []tile
	for row := 0; (row*tileStep + Side) <= g.H; row++ {
		for col := 0; (col*tileStep + Side) <= g.W; col++ {
			x, y := col*tileStep, row*tileStep
			at := pixel.Full(float64(x)+Side/2-0.5, float64(y)+Side/2-0.5, s)
			if !hinted(h, at) || !lively(g, x, y) {
				continue
			}
			if t, ok := f.look(g, x, y); ok {
				t.level, t.col, t.row, t.at = level, col, row, at
				t.pitch *= s
				if fits(h, t) {
					found = append(found, t)
				}
			}
		}
	}
	return found
}

// hinted says whether a place is worth searching under the hint.
func hinted(h ruler.Hint, at ruler.Point) bool {
	return h.Near == nil || math.Abs(h.Near.Distance(at)) <= h.Within
}

// fits says whether a tile's axis and pitch agree with the hint.
func fits(h ruler.Hint, t tile) bool {
	if h.Pitch > 0 && (t.pitch < pitchLeast*h.Pitch || t.pitch > pitchMost*h.Pitch) {
		return false
	}
	return h.Dir == (ruler.Point{}) || math.Abs(h.Dir.Dot(t.dir)) > dirAlike
}

// lively says whether a tile has any contrast, and more than noise: slopes as small as noise's count only where
// they have a direction, as those of lines side by side do. That is the coherence of the structure tensor
// (Bigün and Granlund 1987), from every other row.
func lively(g *pixel.Gray, x, y int) bool {
	lo, hi := uint8(255), uint8(0)
	for j := 1; j < Side; j += livelyEvery {
		row := g.Pix[(y+j)*g.W+x:][:Side]
		for _, v := range row {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	if hi-lo < livelyTones {
		return false
	}
	var n, xx, yy, xy int
	for j := 1; j < Side-1; j += 2 {
		at := (y+j)*g.W + x
		row, above, below := g.Pix[at:][:Side], g.Pix[at-g.W:][:Side], g.Pix[at+g.W:][:Side]
		for i := 1; i < Side-1; i++ {
			dx, dy := int(row[i+1])-int(row[i-1]), int(below[i])-int(above[i])
			n, xx, yy, xy = n+1, xx+dx*dx, yy+dy*dy, xy+dx*dy
		}
	}
	if xx+yy > noiseSlopes*n {
		return true
	}
	return math.Hypot(float64(xx-yy), 2*float64(xy)) >= leastDirected*float64(xx+yy)
}

// look finds the strongest regular pitch of a tile, in px of the level. An edge along the ruler
// may hold more power than the marks beside it, but it has no peak of its own off the lowest
// frequencies; so every peak of the spectrum is tried.
func (f *tileFinder) look(g *pixel.Gray, x, y int) (tile, bool) {
	f.spectrum(g, x, y)
	for _, k := range f.peaks() {
		fu, fv := f.refine(k.u, k.v)
		r := math.Hypot(fu, fv)
		if r < minCycles-cyclesBefore || r > maxCycles+0.5 || !f.standsOut(fu, fv, r) {
			continue
		}
		dir := ruler.Point{X: fu / r, Y: fv / r}
		share := f.around(k.u, k.v) / f.sector(dir)
		if share < leastShare {
			continue
		}
		return tile{dir: dir, pitch: Side / r, share: share, power: k.power}, true
	}
	return tile{}, false
}

// spectrum fills pow with the power spectrum of the windowed tile, its mean taken off.
func (f *tileFinder) spectrum(g *pixel.Gray, x, y int) {
	var sum, wsum float32
	for j := 0; j < Side; j++ {
		row := g.Pix[(y+j)*g.W+x:][:Side]
		win := &f.win[j]
		for i, v := range row {
			sum += win[i] * float32(v)
			wsum += win[i]
		}
	}
	mean := sum / wsum
	for j := 0; j < Side; j++ {
		row := g.Pix[(y+j)*g.W+x:][:Side]
		win, out := &f.win[j], &f.tile[j]
		for i, v := range row {
			out[i] = (float32(v) - mean) * win[i]
		}
	}
	f.fft.power(&f.tile, &f.pow)
}

// signed turns a row of the spectrum into its signed frequency.
func signed(row int) int {
	if row >= Side/2 {
		return row - Side
	}
	return row
}

// spike is a bin of the spectrum that is stronger than its neighbours.
type spike struct {
	u, v  int
	power float64
}

// peaks returns the strongest peaks whose period can be a graduation, the strongest first.
func (f *tileFinder) peaks() []spike {
	const lo, hi = (minCycles - 1) * (minCycles - 1), maxCycles * maxCycles
	out := f.spikes[:0]
	for j := range f.pow {
		v := signed(j)
		for u, q := range f.pow[j] {
			p, r2 := float64(q), float64(u*u+v*v)
			if r2 < lo || r2 > hi || p <= 0 || (u == 0 && v < 0) {
				continue
			}
			if len(out) == mostSpikes && p <= out[mostSpikes-1].power || !f.isPeak(u, v, p) {
				continue
			}
			out = insert(out, spike{u, v, p})
		}
	}
	f.spikes = out
	return out
}

// insert keeps a short list ordered by power.
func insert(list []spike, k spike) []spike {
	if len(list) < mostSpikes {
		list = append(list, k)
	} else {
		list[len(list)-1] = k
	}
	for i := len(list) - 1; i > 0 && list[i].power > list[i-1].power; i-- {
		list[i], list[i-1] = list[i-1], list[i]
	}
	return list
}

func (f *tileFinder) isPeak(u, v int, p float64) bool {
	for j := -1; j <= 1; j++ {
		for i := -1; i <= 1; i++ {
			if (i != 0 || j != 0) && f.bin(u+i, v+j) > p {
				return false
			}
		}
	}
	return true
}

// sector is the power within 45 degrees of a direction, outside the lowest frequencies.
func (f *tileFinder) sector(dir ruler.Point) float64 {
	total := 0.0
	for j := range f.pow {
		v := float64(signed(j))
		for i, p := range f.pow[j] {
			u := float64(i)
			r2 := u*u + v*v
			along := u*dir.X + v*dir.Y
			if r2 >= lowest && 2*along*along >= r2 {
				total += float64(p)
			}
		}
	}
	return total
}

// bin returns the power at a signed frequency, by the symmetry of a real picture's spectrum.
func (f *tileFinder) bin(u, v int) float64 {
	if u < 0 {
		u, v = -u, -v
	}
	if u > Side/2 || v < -Side/2 || v >= Side/2 {
		return 0
	}
	return float64(f.pow[(v+Side)%Side][u])
}

// around sums the power of a peak and its neighbours, the width a Hann window gives a line.
func (f *tileFinder) around(u, v int) float64 {
	sum := 0.0
	for j := -1; j <= 1; j++ {
		for i := -1; i <= 1; i++ {
			sum += f.bin(u+i, v+j)
		}
	}
	return sum
}

// refine places a peak between bins by a parabola through the logarithms, which is close to
// exact for a Hann window.
func (f *tileFinder) refine(u, v int) (fu, fv float64) {
	off := func(a, b, c float64) float64 {
		if a <= 0 || b <= 0 || c <= 0 {
			return 0
		}
		la, lb, lc := math.Log(a), math.Log(b), math.Log(c)
		den := la - 2*lb + lc
		if den >= 0 {
			return 0
		}
		return max(-0.5, min(0.5, 0.5*(la-lc)/den))
	}
	b := f.bin(u, v)
	return float64(u) + off(f.bin(u-1, v), b, f.bin(u+1, v)),
		float64(v) + off(f.bin(u, v-1), b, f.bin(u, v+1))
}

// standsOut says whether the peak rises out of the spectrum along its own direction: a regular
// pitch does, an edge or a texture does not.
func (f *tileFinder) standsOut(fu, fv, r float64) bool {
	at := func(k float64) float64 {
		x, y := fu*k/r, fv*k/r
		x0, y0 := math.Floor(x), math.Floor(y)
		ax, ay := x-x0, y-y0
		i, j := int(x0), int(y0)
		return (f.bin(i, j)*(1-ax)+f.bin(i+1, j)*ax)*(1-ay) + (f.bin(i, j+1)*(1-ax)+f.bin(i+1, j+1)*ax)*ay
	}
	top := at(r)
	return standsHigher*at(r+standsBeside) < top && standsHigher*at(r-standsBeside) < top
}
