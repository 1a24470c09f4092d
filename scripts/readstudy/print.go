package main

import (
	"fmt"
	"io"
	"math"

	"leadmark/scripts/claim"
)

func at10(x *outcome) float64   { return math.Abs(x.advance) * x.perMM / 10 }
func raw(x *outcome) float64    { return math.Abs(x.advance) }
func front(x *outcome) float64  { return x.front }
func ratio(x *outcome) float64  { return math.Abs(held(x.advance, x.u)) }
func ratioF(x *outcome) float64 { return math.Abs(held(x.along, x.frontU)) }

// robust is 1.4826 times the median of absolute ratios, which for normal ones of mean nil is their
// standard deviation.
func robust(v []float64) claim.Figure { return claim.Quantile(0.5, v).In("", 1/1.4826) }

// overBound is the root mean square of the front ends' errors over that of their bounds, for frames
// that have one.
func overBound(list []outcome) claim.Figure {
	var off []float64
	sum := 0.0
	for _, x := range list {
		if x.bound > 0 {
			off, sum = append(off, x.along), sum+x.bound*x.bound
		}
	}
	rms := math.Sqrt(sum / float64(len(off)))
	for i := range off {
		off[i] /= rms
	}
	return claim.Spread(off)
}

func count(list []outcome, holds func(x *outcome) bool) int { return len(claim.Those(list, holds)) }

func isRead(x *outcome) bool  { return x.read }
func isAlone(x *outcome) bool { return x.alone }
func isWrong(x *outcome) bool { return x.wrong || x.wrongAlone }

// print writes the table.
func (r results) print(w io.Writer) {
	fmt.Fprintf(w, "%-8s %6s %6s %6s %6s  %-15s %-15s %-13s %-13s %-13s %s\n", "class", "frames", "read", "alone",
		"wrong", "advance @10/mm", "raw mm", "front px", "error/u", "front err/u", "bound")
	var all []outcome
	for _, class := range r.classes() {
		line(w, class, r[class])
		if class != "none" {
			all = append(all, r[class]...)
		}
	}
	line(w, "all", all)
}

func line(w io.Writer, class string, list []outcome) {
	q := func(p float64, value func(*outcome) float64) float64 {
		return claim.Quantile(p, claim.Values(list, value)).Value
	}
	bound := ""
	if class == "clean" {
		bound = fmt.Sprintf("%.2f", overBound(list).Value)
	}
	fmt.Fprintf(w, "%-8s %6d %6d %6d %6d  %6.4f %7.4f  %6.4f %7.4f  %5.3f %6.3f  %5.2f %6.2f  %5.2f %6.2f  %s\n",
		class, len(list), count(list, isRead), count(list, isAlone), count(list, isWrong),
		q(0.5, at10), q(0.95, at10), q(0.5, raw), q(0.95, raw), q(0.5, front), q(0.95, front),
		robust(claim.Values(list, ratio)).Value, claim.Spread(claim.Values(list, ratio)).Value, robust(claim.Values(list, ratioF)).Value,
		claim.Spread(claim.Values(list, ratioF)).Value, bound)
}
