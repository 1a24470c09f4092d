package doubleflash

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"leadmark/vision/ruler/scale"
)

// comb is the lines of a ruler as two flashes show them: line n of the first stands at index n of
// the scale, that of the second moved further on.
type comb struct {
	scale.ByIndex
	pattern     scale.Pattern
	moved, gain float64 // graduations; light of the second flash over that of the first, 0 where it did not fire
	width, blur float64 // logarithms, of a line: a bar, in graduations, blurred by a law of that standard deviation
	skew        float64 // of that law, as the tail of a flash gives it
}

// The parameters that are fitted; of gain its logarithm.
const (
	pA, pB, pC, pMoved, pGain, pWidth, pBlur, pSkew = 0, 1, 2, 3, 4, 5, 6, 7

	parameters = 8
)

// plus is the comb some way on.
func (c comb) plus(d []float64) comb {
	c.A, c.B, c.C = c.A+d[pA], c.B+d[pB], c.C+d[pC]
	c.moved += d[pMoved]
	c.gain *= math.Exp(d[pGain])
	c.width, c.blur, c.skew = c.width+d[pWidth], c.blur+d[pBlur], c.skew+d[pSkew]
	return c
}

// mirrored is the comb that looks most like this one: the flashes' lines, near each other's or midway
// between, have changed places.
func (c comb) mirrored() comb {
	off := c.moved - math.Round(2*c.moved)/2
	c.Mid -= off
	c.moved -= 2 * off
	c.gain = 1 / c.gain
	return c
}

// possible says whether what a step led to can be.
func (c comb) possible() bool {
	w, b := math.Exp(c.width), math.Exp(c.blur)
	return math.Abs(c.C) < scale.MostBent && math.Abs(c.moved) < 2*mostMove &&
		(c.gain == 0 || c.gain < triedGain && c.gain > 1/triedGain) && math.Abs(c.skew) < mostSkew &&
		b > leastBlur && b < widest && w > leastWidth && w < widest
}

// shape is a line's height, and its derivatives by the place, width, blur and skew.
type shape struct{ height, slope, width, blur, skew float64 }

// line is the shape x from a line's middle. Skew is the first term of Edgeworth's series.
func (c comb) line(x float64) shape {
	w, b := math.Exp(c.width), math.Exp(c.blur)
	p, q := (x+w/2)/b, (x-w/2)/b
	fp, fq := math.Exp(-p*p/2)/math.Sqrt(2*math.Pi), math.Exp(-q*q/2)/math.Sqrt(2*math.Pi)
	tp, tq := c.skew/6*(3*p-p*p*p)*fp, c.skew/6*(3*q-q*q*q)*fq
	skew := ((q*q-1)*fq - (p*p-1)*fp) / 6
	return shape{
		height: (math.Erf(p/math.Sqrt2)-math.Erf(q/math.Sqrt2))/2 + c.skew*skew,
		slope:  (fp - fq - tp + tq) / b,
		width:  w / 2 / b * (fp + fq - tp - tq),
		blur:   q*fq - p*fp + p*tp - q*tq,
		skew:   skew,
	}
}

// columns are the comb's lines along t, a column for each class of length and the shortest last; two
// of what light changes evenly; and for each parameter as many as there are classes, with what their
// lines change by.
func (c comb) columns(t []float64) *mat.Dense {
	k := len(c.pattern.Classes) + 1
	out := mat.NewDense(len(t), k*(parameters+1)+2, nil)
	for i, x := range t {
		row := out.RawRowView(i)
		u, by := c.IndexSlopes(x)
		c.add(row, u, by, 1, false)
		if c.gain > 0 {
			c.add(row, u-c.moved, by, c.gain, true)
		}
		row[k], row[k+1] = 1, 2*float64(i)/float64(len(t))-1
	}
	return out
}

// add adds the lines about a place to a row of columns, as one of the two flashes shows them.
func (c comb) add(row []float64, u float64, by [3]float64, gain float64, second bool) {
	if !(math.Abs(u) < farthest) {
		return // a scale bent that far says nothing, and its places have no end
	}
	k := len(c.pattern.Classes) + 1
	reach := math.Exp(c.width)/2 + 3.5*math.Exp(c.blur)
	for n := int(math.Ceil(u - reach)); float64(n) <= u+reach; n++ {
		s, class := c.line(u-float64(n)), c.pattern.Class(n)
		d := [parameters]float64{s.slope * by[0], s.slope * by[1], s.slope * by[2], 0, 0, s.width, s.blur, s.skew}
		if second {
			d[pMoved], d[pGain] = -s.slope, s.height
		}
		row[class] += gain * s.height
		for p, v := range d {
			row[k+2+k*p+class] += gain * v
		}
	}
}
