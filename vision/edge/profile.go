package edge

import (
	"math"

	"leadmark/vision/animal"
)

// edgePlace is a place of an outline: where, which way is inward, and how the outline curves there
// (1/px, positive where it is hollow as seen from the set); room is how far one may go across it
// until the outline comes again, px.
type edgePlace struct {
	at, inward animal.Point
	curve      float64
	room       float64
}

// placesOn picks places where an outline, given in order, runs smoothly.
func placesOn(outline []animal.Point) []edgePlace {
	n := len(outline)
	if n < fewestReach*outlineReach {
		return nil
	}
	area := 0.0 // twice that inside, by its sign the sense of the outline
	for i, p := range outline {
		q := outline[(i+1)%n]
		area += p.X*q.Y - q.X*p.Y
	}
	var out []edgePlace
	for i := 0; i < n; i += max(1, n/edgePlaces) {
		if p, ok := placeAt(outline, i, math.Copysign(1, area)); ok {
			p.room = p.roomIn(outline)
			out = append(out, p)
		}
	}
	return out
}

// roomIn is how far one may go across the edge, in its middle and beside it, until the outline
// comes again: little on legs and antennae.
func (e edgePlace) roomIn(outline []animal.Point) float64 {
	room := math.Inf(1)
	place := func(q animal.Point) (along, across float64) {
		dx, dy := q.X-e.at.X, q.Y-e.at.Y
		return e.inward.X*dy - e.inward.Y*dx, e.inward.X*dx + e.inward.Y*dy
	}
	ta, sa := place(outline[len(outline)-1])
	for _, q := range outline {
		tb, sb := place(q)
		for _, t := range [...]float64{-beside, 0, beside} {
			if (ta > t) == (tb > t) {
				continue
			}
			if s := math.Abs(sa + (t-ta)/(tb-ta)*(sb-sa)); s > itself {
				room = min(room, s)
			}
		}
		ta, sa = tb, sb
	}
	return room
}

// placeAt fits a parabola to the points of an outline about point i.
func placeAt(outline []animal.Point, i int, sense float64) (edgePlace, bool) {
	n := len(outline)
	point := func(j int) animal.Point { return outline[((i+j)%n+n)%n] }
	a, b := point(-outlineReach), point(outlineReach)
	dx, dy := b.X-a.X, b.Y-a.Y
	chord := math.Hypot(dx, dy)
	if step := math.Hypot(point(1).X-point(-1).X, point(1).Y-point(-1).Y) / 2; chord < doublesBack*outlineReach*step {
		return edgePlace{}, false // it doubles back
	}
	dx, dy = dx/chord, dy/chord
	in := animal.Point{X: -sense * dy, Y: sense * dx}
	mid := point(0)
	f := newNormal(3)
	far := 0.0
	for j := -outlineReach; j <= outlineReach; j++ {
		q := point(j)
		t := (q.X-mid.X)*dx + (q.Y-mid.Y)*dy
		far = max(far, math.Abs(t))
		f.add([edgeUnknowns]float64{1, t, t * t}, (q.X-mid.X)*in.X+(q.Y-mid.Y)*in.Y, 1)
	}
	c, _, ok := f.solve()
	if !ok || math.Abs(2*c[2])*far > mostCurve {
		return edgePlace{}, false
	}
	sin, cos := math.Sincos(math.Atan(c[1]))
	return edgePlace{
		at:     animal.Point{X: mid.X + c[0]*in.X, Y: mid.Y + c[0]*in.Y},
		inward: animal.Point{X: cos*in.X - sin*dx, Y: cos*in.Y - sin*dy},
		curve:  2 * c[2],
	}, true
}

// edgeProfile is the run of light across one place of an outline, from the set inward.
type edgeProfile struct {
	inward  animal.Point // unit vector across
	half    float64      // px to either side
	known   float64      // px^2, of the Gaussian's variance, that the picture was blurred by here
	bins    []edgeBin
	count   float64    // pixels in all
	weights [3]float64 // of the channels, by which the animal is about 1 and the set 0
	noise   float64    // variance of a bin's difference, the mean of the channels'
}

// edgeBin is a part of a profile.
type edgeBin struct {
	s, n float64    // px from the outline; pixels averaged
	d    [3]float64 // difference from the set
	v    float64    // coverage by the animal, about
}

// profile averages the difference from the set about a place along lines that run beside the
// outline, half px to either side, and turns it into coverage.
func (e edgePlace) profile(p *Patch, half float64) (edgeProfile, bool) {
	f := edgeProfile{inward: e.inward, half: half, known: p.blur.along(e.inward)}
	var in, out [][3]float64
	for _, b := range e.average(p, half) {
		if b.n == 0 {
			continue
		}
		b.s /= b.n
		for k := range b.d {
			b.d[k] /= b.n
		}
		f.bins, f.count = append(f.bins, b), f.count+b.n
		switch {
		case b.s > sideShare*half:
			in = append(in, b.d)
		case b.s < -sideShare*half:
			out = append(out, b.d)
		}
	}
	var ok bool
	f.weights, ok = unmixed(in, out)
	f.noise = variance3(out) + leastVariance
	for i, b := range f.bins {
		f.bins[i].v = dot(f.weights, b.d)
	}
	return f, ok
}

// average sums up the pixels about a place by their distance from the outline.
func (e edgePlace) average(p *Patch, half float64) (bins [edgeBins]edgeBin) {
	along := animal.Point{X: -e.inward.Y, Y: e.inward.X}
	long := edgePatch / 2.0
	if e.curve != 0 {
		long = min(long, mostCurve/math.Abs(e.curve))
	}
	rx := math.Abs(along.X)*long + math.Abs(e.inward.X)*half
	ry := math.Abs(along.Y)*long + math.Abs(e.inward.Y)*half
	box := p.within(e.at.X, e.at.Y, rx, ry)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			dx, dy := float64(x)-e.at.X, float64(y)-e.at.Y
			t := along.X*dx + along.Y*dy
			s := e.inward.X*dx + e.inward.Y*dy - e.curve*t*t/2
			if math.Abs(t) > long || math.Abs(s) >= half {
				continue
			}
			b := &bins[binAt(s, half)]
			b.s, b.n = b.s+s, b.n+1
			for k, v := range p.Differs(x, y) {
				b.d[k] += v
			}
		}
	}
	return bins
}

// binAt is the bin of a distance inside the half width: the quotient of one next to its upper end
// can round to 1.
func binAt(s, half float64) int { return min(int((s+half)/(2*half)*edgeBins), edgeBins-1) }

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// variance3 is the variance of values, the mean of the three channels'.
func variance3(all [][3]float64) float64 {
	sum := 0.0
	for k := range 3 {
		var m moments
		for _, d := range all {
			m.add(d[k])
		}
		_, v := m.mean()
		sum += v / 3
	}
	return sum
}

// unmixed are weights of the three channels by which a difference from the set, in light, is about
// 1 inside and 0 outside: least squares. Where an animal's colours lie on a plane that misses the
// backdrop's, as shades of one pigment do before a coloured one, that is the coverage of every
// pixel; where they do not, the animal's pattern stays in it.
func unmixed(in, out [][3]float64) (w [3]float64, ok bool) {
	if len(in) < fewestBeside || len(out) < fewestBeside {
		return w, false
	}
	n := newNormal(3)
	for _, d := range in {
		n.add([edgeUnknowns]float64{d[0], d[1], d[2]}, 1, 1/float64(len(in)))
	}
	for _, d := range out {
		n.add([edgeUnknowns]float64{d[0], d[1], d[2]}, 0, 1/float64(len(out)))
	}
	for k := range 3 {
		var j [edgeUnknowns]float64
		j[k] = 1
		n.add(j, 0, stiff)
	}
	c, _, ok := n.solve()
	return [3]float64{c[0], c[1], c[2]}, ok
}

// Weights are the weights of the three channels by which a difference from the set is about 1 all
// over a part of an animal, from the mean of the differences and that of their products, of which
// those with k <= l are looked at.
func Weights(products [3][3]float64, differ [3]float64) (w [3]float64, ok bool) {
	n := newNormal(3)
	for k := range 3 {
		n.a[k][edgeUnknowns] = differ[k]
		copy(n.a[k][k:3], products[k][k:])
	}
	d, _, ok := n.solve()
	return [3]float64{d[0], d[1], d[2]}, ok
}
