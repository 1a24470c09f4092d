package vision

import (
	"math"
	"slices"

	"leadmark/animal"
	"leadmark/ruler"
)

const (
	edgePlaces   = 240  // of an outline that are measured, about
	fewestEdges  = 12   // without which nothing is said
	edgeContrast = 0.02 // light, of a step worth measuring
	widestEdge   = 40   // px, standard deviation
	edgeMisfit   = 0.02 // of the step: what an edge may differ from the fit besides noise
)

// edgePlace is the width of an edge at one place.
type edgePlace struct {
	n        animal.Point // across
	variance float64      // px^2
}

// measureEdges measures the widths of an animal's outline, which is in reduced pixels, on the whole picture; nil where too little of
// it is clear.
func measureEdges(c *colour, s *Scene, f *difference, small animal.Animal) *animal.Edges {
	k := float64(s.k)
	up := func(p animal.Point) ruler.Point { return full(p.X, p.Y, k) }
	g := c.channel(f.strongest(small.Outline))
	places := f.edgePlaces(g, small.Outline, up, k)
	if len(places) < fewestEdges {
		return nil
	}
	e := fitEdges(places)
	return &e
}

// channel is one of the colours as a grey picture.
func (c *colour) channel(k int) *gray {
	g := newGray(c.w, c.h)
	for i := range g.pix {
		g.pix[i] = c.pix[3*i+k]
	}
	return g
}

// strongest is the channel in which an animal differs most from the set just inside its outline.
func (f *difference) strongest(outline []animal.Point) int {
	var sum [3]float64
	for _, p := range outline {
		x, y := int(p.X), int(p.Y)
		i := 3 * (y*f.w + x)
		for k := range sum {
			sum[k] += math.Abs(light[f.pic.pix[i+k]] - light[f.back.pix[i+k]])
		}
	}
	best := 0
	for k := range sum {
		if sum[k] > sum[best] {
			best = k
		}
	}
	return best
}

// edgePlaces fits short straight pieces of the outline with a blurred step.
func (f *difference) edgePlaces(g *gray, outline []animal.Point, up func(animal.Point) ruler.Point, k float64) []edgePlace {
	const reach = 4 // outline points to either side that give the direction
	n := len(outline)
	if n < 4*reach {
		return nil
	}
	var out []edgePlace
	step := max(1, n/edgePlaces)
	for i := 0; i < n; i += step {
		a, b, p := outline[(i-reach+n)%n], outline[(i+reach)%n], outline[i]
		chord := math.Hypot(b.X-a.X, b.Y-a.Y)
		off := math.Abs((b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X))
		if chord < 1.7*reach || off > 0.8*chord || p.X < 3 || p.Y < 3 || p.X > float64(f.w-4) || p.Y > float64(f.h-4) {
			continue // a corner, or the picture's own edge
		}
		if e, ok := fitPlace(g, ruler.Line{A: up(a), B: up(b)}, up(p)); ok {
			out = append(out, e)
		}
	}
	return out
}

// fitPlace fits one piece: a step blurred by a Gaussian.
func fitPlace(g *gray, along ruler.Line, mid ruler.Point) (edgePlace, bool) {
	d := along.Dir()
	length := math.Min(along.B.Sub(along.A).Len(), 14)
	l := ruler.Line{A: mid.Sub(d.Mul(length / 2)), B: mid.Add(d.Mul(length / 2))}
	sigma := 1.5
	var p piece
	for range 7 {
		f := newPieces(g, l, 1, sigma)
		p = f.fitEvenly()
		if !p.ok { // perhaps the edge is wider than was looked
			sigma *= 2
			continue
		}
		if math.Abs(p.sigma-sigma) < 0.1*sigma {
			break
		}
		sigma = p.sigma
	}
	if !p.ok || p.sigma > widestEdge {
		return edgePlace{}, false
	}
	if math.Abs(p.hi-p.lo) < edgeContrast || math.Abs(p.at) > 2*p.sigma+2 || p.misfit > 12 {
		return edgePlace{}, false
	}
	n := d.Perp()
	return edgePlace{animal.Point{X: n.X, Y: n.Y}, p.sigma * p.sigma}, true
}

// fitEvenly fits the one piece with level sides and the same weight on both: the width found of a smeared edge is then the same for
// the edge that leads and the one that trails, as in the table of smeared edges.
func (f *pieces) fitEvenly() piece {
	p := &f.list[0]
	f.gather(p, f.half())
	p.ok = p.start()
	p.sigma = f.sigma
	slack := edgeMisfit * (p.hi - p.lo)
	variance := max(leastVariance, (p.vlo+p.vhi)/2+slack*slack)
	for range smearRounds {
		if moved := p.level(f.half()); !p.ok || moved < settled {
			break
		}
	}
	p.misfit /= variance
	return *p
}

// level makes one Gauss-Newton step for place, levels and blur of a step with level sides, and returns how far place and blur moved.
func (p *piece) level(half float64) (moved float64) {
	n := newNormal(4)
	table := normals()
	step, ss := p.hi-p.lo, 0.0
	for _, q := range p.samples {
		z := (q.s - p.at) / p.sigma
		phi, c := table.at(z)
		phi /= p.sigma
		r := q.light - p.lo - step*c
		ss += r * r
		n.add([edgeUnknowns]float64{-step * phi, 1 - c, c, -step * phi * z}, r, 1)
	}
	d, _, ok := n.solve()
	if !ok {
		p.ok = false
		return 0
	}
	p.at += max(-p.sigma, min(p.sigma, d[0]))
	p.lo, p.hi = p.lo+d[1], p.hi+d[2]
	p.sigma = max(leastSigma, min(2*p.sigma, max(0.5*p.sigma, p.sigma+d[3])))
	p.misfit = ss / float64(max(1, len(p.samples)-n.m))
	p.ok = math.Abs(p.at) < half && p.sigma < half
	return max(math.Abs(d[0]), math.Abs(d[3]))
}

// fitEdges fits the variances by direction, n^T C n, robustly: iterated least squares of the relative error with weights that
// fall off as its inverse, the median's way of not minding single places where the body's own pattern was taken for its edge.
func fitEdges(places []edgePlace) animal.Edges {
	var c [3]float64
	weight := make([]float64, len(places))
	var widths []float64
	for i, p := range places {
		weight[i] = 1 / (p.variance * p.variance)
		widths = append(widths, math.Sqrt(p.variance))
	}
	slices.Sort(widths)
	for range 30 {
		n := newNormal(3)
		for i, p := range places {
			n.add([edgeUnknowns]float64{p.n.X * p.n.X, 2 * p.n.X * p.n.Y, p.n.Y * p.n.Y}, p.variance, weight[i])
		}
		d, _, ok := n.solve()
		if !ok {
			break
		}
		c = [3]float64{d[0], d[1], d[2]}
		for i, p := range places {
			fit := max(0.05, c[0]*p.n.X*p.n.X+2*c[1]*p.n.X*p.n.Y+c[2]*p.n.Y*p.n.Y)
			r := math.Abs(p.variance-fit) / fit
			weight[i] = 1 / (fit * fit * max(r, 0.05))
		}
	}
	const tenToNinety = 2.5631 // of a Gaussian's distribution, in its standard deviations
	e := animal.Edges{N: len(places), Width: tenToNinety * widths[len(widths)/2]}
	mean, diff := (c[0]+c[2])/2, math.Hypot((c[0]-c[2])/2, c[1])
	turn := math.Atan2(2*c[1], c[0]-c[2]) / 2
	least, most := math.Sqrt(max(0.05, mean-diff)), math.Sqrt(max(0.05, mean+diff))
	e.Direction = animal.Point{X: math.Cos(turn), Y: math.Sin(turn)}
	blur, tail := smearFit(places, e.Direction, least, least*smearOf(least, most/least))
	e.Blur, e.Motion = blur, math.Ln10*tail
	return e
}

// smearFit is the Gaussian and the decay length along a direction by which the widths at all places are matched best, by the sum of
// their relative errors' sizes: searched about a first guess, each by itself in turn.
func smearFit(places []edgePlace, dir animal.Point, blur, tail float64) (float64, float64) {
	misfit := func(blur, tail float64) float64 {
		sum := 0.0
		for _, p := range places {
			want := blur * widerBy(blur, tail*math.Abs(p.n.X*dir.X+p.n.Y*dir.Y)/blur)
			sum += math.Abs(math.Log(math.Sqrt(p.variance) / want))
		}
		return sum
	}
	for range 3 {
		best, value := blur, math.Inf(1)
		for k := -10; k <= 10; k++ {
			if b := blur * math.Pow(1.05, float64(k)); misfit(b, tail) < value {
				best, value = b, misfit(b, tail)
			}
		}
		blur = best
		top := 2*tail + 1
		tail, value = 0, math.Inf(1)
		for k := range 61 {
			if t := top * float64(k) / 60; misfit(blur, t) < value {
				tail, value = t, misfit(blur, t)
			}
		}
	}
	return blur, tail
}
