package main

import (
	"fmt"
	"io"
	"math"
	"slices"

	"leadmark/fit/stat"
)

// row is the figures of one class.
type row struct {
	frames, read, alone, wrong int
	advance, advance95         float64 // mm at 10 px/mm
	raw, raw95                 float64 // mm
	front, front95             float64 // px
	robustU, plainU            float64 // spread of error/u of the advance
	robustFront, plainFront    float64 // and of the front end along the ruler
	bound, plainBound          float64 // r.m.s. of the front end over that of its bound; r.m.s. of the two's ratio
}

// rowOf works out the figures of some frames.
func rowOf(list []outcome) row {
	r := row{frames: len(list)}
	var at10, raw, front, z, zf, ends, bounds, b []float64
	for _, x := range list {
		if x.alone {
			r.alone++
		}
		if x.wrong {
			r.wrong++
		}
		if !x.read {
			continue
		}
		r.read++
		if !x.readable || x.wrong {
			continue
		}
		at10, raw = append(at10, math.Abs(x.advance)*x.perMM/10), append(raw, math.Abs(x.advance))
		front = append(front, x.front)
		z, zf = append(z, x.advance/x.u), append(zf, x.along/x.frontU)
		if x.bound > 0 {
			ends, bounds, b = append(ends, x.along), append(bounds, x.bound), append(b, x.along/x.bound)
		}
	}
	r.advance, r.advance95 = quantile(at10, 0.5), quantile(at10, 0.95)
	r.raw, r.raw95 = quantile(raw, 0.5), quantile(raw, 0.95)
	r.front, r.front95 = quantile(front, 0.5), quantile(front, 0.95)
	r.robustU, r.plainU = robustSpread(z), rms(z)
	r.robustFront, r.plainFront = robustSpread(zf), rms(zf)
	r.bound, r.plainBound = rms(ends)/rms(bounds), rms(b)
	return r
}

// print writes the table.
func (r results) print(w io.Writer) {
	fmt.Fprintf(w, "%-8s %6s %6s %6s %6s  %-15s %-15s %-13s %-13s %-13s %s\n", "class", "frames", "read", "alone",
		"wrong",
		"advance @10/mm", "raw mm", "front px", "error/u", "front err/u", "bound")
	var all []outcome
	for _, class := range r.classes() {
		line(w, class, rowOf(r[class]))
		if class != "none" {
			all = append(all, r[class]...)
		}
	}
	line(w, "all", rowOf(all))
}

func line(w io.Writer, class string, r row) {
	fmt.Fprintf(w, "%-8s %6d %6d %6d %6d  %6.4f %7.4f  %6.4f %7.4f  %5.3f %6.3f  %5.2f %6.2f  %5.2f %6.2f  %s\n",
		class, r.frames, r.read, r.alone, r.wrong,
		r.advance, r.advance95, r.raw, r.raw95, r.front, r.front95, r.robustU, r.plainU, r.robustFront,
		r.plainFront, figure(r.bound)+" "+figure(r.plainBound))
}

func figure(v float64) string {
	if v == 0 || math.IsNaN(v) {
		return ""
	}
	return fmt.Sprintf("%.2f", v)
}

func quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	return stat.Select(slices.Clone(v), int(q*float64(len(v)-1)+0.5))
}

// robustSpread is 1.4826 times the median distance from zero, which for a normal of mean 0 is its
// standard deviation.
func robustSpread(v []float64) float64 {
	a := make([]float64, len(v))
	for i, x := range v {
		a[i] = math.Abs(x)
	}
	return stat.FromMAD * quantile(a, 0.5)
}

func rms(v []float64) float64 {
	var sum float64
	for _, x := range v {
		sum += x * x
	}
	return math.Sqrt(sum / float64(len(v)))
}
