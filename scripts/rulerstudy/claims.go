package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"leadmark/scripts/claim"
)

// results are the outcomes by class.
type results map[string][]outcome

// withRulers are the classes that were drawn, but pictures without a ruler.
func (r results) withRulers() []string {
	return slices.DeleteFunc(classes(), func(class string) bool { return len(r[class]) == 0 || class == none })
}

// all are the outcomes of these.
func (r results) all() (list []outcome) {
	for _, class := range r.withRulers() {
		list = append(list, r[class]...)
	}
	return list
}

// row is the figures of some frames.
type row struct {
	frames, readable, read, readableAlone, alone int
	wrong, unsure, absolute, end, phantom        int
	frontReadable, found                         int
	front, advance, ratios                       []float64
}

func rowOf(list []outcome) (r row) {
	add := func(n *int, b bool) {
		if b {
			*n++
		}
	}
	for _, x := range list {
		r.frames++
		add(&r.readable, x.readable)
		add(&r.read, x.readable && x.read)
		add(&r.readableAlone, x.readableAlone)
		add(&r.alone, x.readableAlone && x.alone)
		add(&r.wrong, x.wrong)
		add(&r.unsure, x.unsure)
		add(&r.absolute, x.absolute)
		add(&r.end, x.end)
		add(&r.phantom, x.phantom)
		add(&r.frontReadable, x.frontReadable && x.readable)
		if x.frontReadable && x.readable && x.found {
			r.found++
			r.front = append(r.front, math.Abs(x.front))
		}
		if x.placed {
			r.advance = append(r.advance, math.Abs(x.advance)*x.perMM/10)
			r.ratios = append(r.ratios, x.advance/x.u)
		}
	}
	return r
}

// print writes a line a class.
func (r results) print(w io.Writer) {
	fmt.Fprintf(w, "%-8s %6s %12s %12s %6s %6s %8s %5s %7s %12s %8s %8s %8s\n", "class", "frames", "read", "alone",
		"wrong", "unsure", "absolute", "ends", "phantom", "front", "px", "advance", "error/u")
	for _, class := range r.withRulers() {
		rowOf(r[class]).print(w, class)
	}
	rowOf(r.all()).print(w, "all")
	if list := r[none]; len(list) > 0 {
		fmt.Fprintf(w, "%-8s %6d %12s\n", none, len(list), fmt.Sprintf("%d read", countRead(list)))
		reasons := map[string]int{}
		for _, x := range list {
			if !x.read {
				reasons[strings.Join(x.reasons, ";")]++
			}
		}
		fmt.Fprintln(w, "         refused as", reasons)
	}
}

func (r row) print(w io.Writer, class string) {
	of := func(n, of int) string { return fmt.Sprintf("%d/%d", n, of) }
	fmt.Fprintf(w, "%-8s %6d %12s %12s %6d %6d %8d %5d %7d %12s %8.2f %8.4f %8.2f\n", class, r.frames,
		of(r.read, r.readable), of(r.alone, r.readableAlone), r.wrong, r.unsure, r.absolute, r.end, r.phantom,
		of(r.found, r.frontReadable), claim.Quantile(0.5, r.front).Value, claim.Quantile(0.5, r.advance).Value,
		claim.Spread(r.ratios).Value)
}

func countRead(list []outcome) (n int) {
	for _, x := range list {
		if x.read {
			n++
		}
	}
	return n
}

// claims are what the manual says of the reading.
func (r results) claims() *claim.Study {
	s := &claim.Study{}
	for _, class := range r.withRulers() {
		if f := claim.Spread(rowOf(r[class]).ratios); f.N > 0 {
			s.Hold(class+": error over u, r.m.s.", f, claim.Between(0.7, 1.3))
		}
	}
	if f := rowOf(r.all()); f.frames > 0 {
		s.Hold("readable frames read, told", claim.Share(f.read, f.readable), claim.AtLeast(0.98))
		s.Hold("readable frames read, told nothing", claim.Share(f.alone, f.readableAlone), claim.AtLeast(0.98))
		s.Hold("readable front ends found", claim.Share(f.found, f.frontReadable), claim.AtLeast(0.98))
		s.Hold("wrong and not flagged", claim.Count(f.wrong, f.frames), claim.AtMost(0))
		s.Hold("absolute claimed falsely", claim.Count(f.absolute, f.frames), claim.AtMost(0))
		s.Hold("front ends claimed falsely", claim.Count(f.end, f.frames), claim.AtMost(0))
		s.Hold("graduations beyond the ruler", claim.Count(f.phantom, f.frames), claim.AtMost(0))
		s.Hold("advance, median", claim.Quantile(0.5, f.advance).In("mm at 10 px/mm", 1), claim.AtMost(0.02))
		s.Hold("front end, median", claim.Quantile(0.5, f.front).In("px", 1), claim.AtMost(0.3))
		s.LeftOut("scales not readable by the rule", f.frames-f.readableAlone, f.frames, 0.15)
	}
	if list := r[none]; len(list) > 0 {
		s.Hold("pictures without a ruler read", claim.Share(countRead(list), len(list)), claim.AtMost(2.0/5000))
	}
	return s
}
