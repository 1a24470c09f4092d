package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// difference is one place where two files are not the same.
type difference struct {
	where, base, head string
	units             float64 // in units of u; NaN where no u stands beside it
	beside            string  // the key of that u and its value
}

// apart is a difference that is not one of numbers with a u.
func apart(where, base, head string) difference {
	return difference{where: where, base: base, head: head, units: math.NaN()}
}

// absent stands for a value that one side does not have.
const absent = "(absent)"

// differences lists the values in which two documents differ.
func differences(base, head document) []difference {
	var out []difference
	for _, l := range base.leaves {
		text, ok := head.text(l.path)
		if !ok {
			text = absent
		}
		if text != l.text {
			out = append(out, base.measure(l, text))
		}
	}
	for _, l := range head.leaves {
		if _, ok := base.text(l.path); !ok {
			out = append(out, apart(l.path, absent, l.text))
		}
	}
	if len(out) == 0 && !slices.EqualFunc(base.leaves, head.leaves, func(a, b leaf) bool { return a.path == b.path }) {
		out = append(out, apart("the order of the keys", "one", "another"))
	}
	return out
}

// measure is how far a value is from another, in units of the u that stands beside it.
func (d document) measure(l leaf, head string) difference {
	out := apart(l.path, l.text, head)
	a, err := strconv.ParseFloat(l.text, 64)
	b, err2 := strconv.ParseFloat(head, 64)
	if err != nil || err2 != nil {
		return out
	}
	if u, name := d.uncertainty(l); u > 0 {
		out.units, out.beside = (b-a)/u, fmt.Sprintf("%s = %.4g", name, u)
	}
	return out
}

// uncertainty finds the standard uncertainty of a value among the keys beside it: u_KEY, the u of
// its unit, or what a 95 % interval of a normal law comes to. A value that is itself an uncertainty
// has none.
func (d document) uncertainty(l leaf) (u float64, name string) {
	if l.key == "u" || strings.HasPrefix(l.key, "u_") || strings.Contains(l.key, "_u_") ||
		strings.HasSuffix(l.key, "_u") {
		return 0, ""
	}
	stem, unit := "", ""
	if i := strings.LastIndexByte(l.key, '_'); i >= 0 && !strings.Contains(l.key, "_per_") {
		stem, unit = strings.TrimSuffix(l.key[:i], "_interval95"), l.key[i+1:]
	}
	keys := []string{"u_" + l.key, l.key + "_u"}
	if unit != "" {
		keys = append(keys, "u_"+stem+"_"+unit, "u_"+unit, "edge_u_"+unit)
	}
	for _, k := range append(keys, "u") {
		if u, ok := d.number(join(l.object, k)); ok {
			return u, k
		}
	}
	for _, k := range []string{stem + "_interval95_" + unit, "interval95_" + unit, "interval95"} {
		low, ok := d.number(join(l.object, k) + "[0]")
		high, ok2 := d.number(join(l.object, k) + "[1]")
		if ok && ok2 {
			return (high - low) / (2 * 1.96), k + "/3.92"
		}
	}
	return 0, ""
}

func (d document) number(path string) (float64, bool) {
	text, ok := d.text(path)
	if !ok {
		return 0, false
	}
	x, err := strconv.ParseFloat(text, 64)
	return x, err == nil
}

// String is a difference as it is printed. Where no u is known the share is told, of what can be told.
func (d difference) String() string {
	s := fmt.Sprintf("%s: %s -> %s", d.where, d.base, d.head)
	if !math.IsNaN(d.units) {
		return fmt.Sprintf("%s  %+.3g u (%s)", s, d.units, d.beside)
	}
	a, err := strconv.ParseFloat(d.base, 64)
	b, err2 := strconv.ParseFloat(d.head, 64)
	if err == nil && err2 == nil && a != 0 {
		return fmt.Sprintf("%s  %+.2g %%", s, 100*(b-a)/math.Abs(a))
	}
	return s
}
