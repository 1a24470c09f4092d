package crops

import (
	"math"

	"leadmark/vision/synth/texture"
)

// inch is that many mm.
const inch = 25.4

// Order is how long every so many-th graduation is, mm.
type Order struct {
	Every  int
	Length float64
}

// Scale is one row of graduations along one edge of a ruler.
type Scale struct {
	Name   string  // as the trade says it: "1 mm", "1/50 inch"
	Step   float64 // mm
	Orders []Order // the shortest first
	Line   float64 // mm, how wide a graduation is
	Start  float64 // mm from the edge to where graduations begin
	Far    bool    // on the edge at q = Width
	Zero   float64 // mm: p of the zero line
	Sense  float64 // +1: readings rise away from the front end
	From   int     // the first graduation that there is, counted from Zero along p
	To     int     // the last
	Label  int     // a numeral every so many graduations
	Figure float64 // mm that a numeral of 1 stands for
}

// Reading is what the scale says at p, mm.
func (s *Scale) Reading(p float64) float64 { return s.Sense * (p - s.Zero) }

// length is that of graduation k.
func (s *Scale) length(k int) float64 {
	l := s.Orders[0].Length
	for _, o := range s.Orders[1:] {
		if k%o.Every == 0 {
			l = o.Length
		}
	}
	return l
}

// longest is the length of the longest.
func (s *Scale) longest() float64 { return s.Orders[len(s.Orders)-1].Length }

// trade are the graduations that are sold; lengths are in shares of the longest.
func trade() []Scale {
	o := func(pairs ...float64) (list []Order) {
		for i := 0; i < len(pairs); i += 2 {
			list = append(list, Order{int(pairs[i]), pairs[i+1]})
		}
		return list
	}
	part := func(name string, n float64, orders []Order, label int) Scale {
		return Scale{Name: name, Step: inch / n, Orders: orders, Label: label, Figure: inch}
	}
	return []Scale{
		{Name: "1 mm", Step: 1, Orders: o(1, 0.5, 5, 0.75, 10, 1), Label: 10, Figure: 10},
		{Name: "0.5 mm", Step: 0.5, Orders: o(1, 0.4, 2, 0.6, 10, 0.8, 20, 1), Label: 20, Figure: 1},
		{Name: "2 mm", Step: 2, Orders: o(1, 0.55, 5, 1), Label: 5, Figure: 1},
		{Name: "5 mm", Step: 5, Orders: o(1, 0.5, 2, 0.75, 20, 1), Label: 20, Figure: 10},
		part("1/8 inch", 8, o(1, 0.4, 2, 0.6, 4, 0.8, 8, 1), 8),
		part("1/16 inch", 16, o(1, 0.35, 2, 0.5, 4, 0.65, 8, 0.8, 16, 1), 16),
		part("1/32 inch", 32, o(1, 0.3, 2, 0.45, 4, 0.6, 8, 0.7, 16, 0.85, 32, 1), 32),
		part("1/64 inch", 64, o(1, 0.3, 2, 0.4, 4, 0.5, 8, 0.65, 16, 0.75, 32, 0.9, 64, 1), 64),
		part("1/10 inch", 10, o(1, 0.5, 5, 0.75, 10, 1), 10),
		part("1/20 inch", 20, o(1, 0.4, 2, 0.6, 10, 0.8, 20, 1), 20),
		part("1/50 inch", 50, o(1, 0.45, 5, 0.65, 10, 0.8, 50, 1), 50),
		part("1/100 inch", 100, o(1, 0.4, 5, 0.55, 10, 0.75, 50, 0.9, 100, 1), 100),
	}
}

// Material is what a ruler is made of and marked with.
type Material struct {
	Name   string
	Body   texture.Colour
	Ink    texture.Colour
	Clear  float64 // share of the backdrop's light that comes through
	Brush  float64 // how uneven the body is, streaks along p
	Sheen  float64 // how much brighter a band across it is that mirrors the light
	Groove float64 // how bright the lit flank of an engraved graduation is
	Grain  bool    // wood
}

// materials are the usual ones.
func materials() []Material {
	c := func(r, g, b float32) texture.Colour { return texture.Colour{r, g, b} }
	return []Material{
		{Name: "white plastic", Body: c(0.82, 0.82, 0.8), Ink: c(0.03, 0.03, 0.03)},
		{Name: "ivory plastic", Body: c(0.75, 0.68, 0.5), Ink: c(0.05, 0.04, 0.04), Groove: 0.1},
		{Name: "yellow tape", Body: c(0.8, 0.6, 0.06), Ink: c(0.02, 0.02, 0.02), Brush: 0.03},
		{Name: "steel", Body: c(0.4, 0.41, 0.42), Ink: c(0.04, 0.04, 0.04), Brush: 0.12, Sheen: 0.8, Groove: 0.25},
		{Name: "satin steel", Body: c(0.5, 0.5, 0.49), Ink: c(0.03, 0.03, 0.03), Brush: 0.06, Sheen: 0.35},
		{Name: "brass", Body: c(0.5, 0.36, 0.14), Ink: c(0.05, 0.04, 0.03), Brush: 0.08, Sheen: 0.5, Groove: 0.3},
		{Name: "black plastic", Body: c(0.03, 0.03, 0.035), Ink: c(0.75, 0.75, 0.72), Sheen: 0.5},
		{Name: "blue aluminium", Body: c(0.03, 0.08, 0.35), Ink: c(0.7, 0.72, 0.74), Brush: 0.06, Sheen: 0.5},
		{Name: "green board", Body: c(0.03, 0.16, 0.07), Ink: c(0.72, 0.74, 0.7)},
		{Name: "boxwood", Body: c(0.5, 0.32, 0.13), Ink: c(0.03, 0.025, 0.02), Grain: true},
		{Name: "clear plastic", Body: c(0.12, 0.13, 0.13), Ink: c(0.02, 0.02, 0.02), Clear: 0.8},
		{Name: "clear green plastic", Body: c(0.06, 0.15, 0.08), Ink: c(0.01, 0.02, 0.02), Clear: 0.6},
	}
}

// Ruler is one ruler.
type Ruler struct {
	Length, Width float64 // mm
	Corner        float64 // mm, radius of the corners
	Hole          float64 // mm, radius of a hole at its front end's middle; 0: none
	HoleAt        float64 // mm from the front end
	Material      Material
	Scales        []Scale // the first is the one that is stated
	Words         string  // printed along it
	Wear          float64 // share of the ink that is rubbed off where it is worn
	Scratches     int
	Ghost         float64 // ink of a second print over that of the first
	GhostBy       float64 // mm along p from the first
	Joint         Joint   // of a folding rule
}

// Joint is where the next section of a folding rule begins. It lies under or over the first, and so
// is seen smaller or larger and set off. Half 0: there is none.
type Joint struct {
	At, Half      float64 // mm: where, and half the length of the hinge's plate
	Grow          float64
	Along, Across float64 // mm
}

// Section is the place on the ruler's face that is seen at (p, q) of the first section's plane.
func (r *Ruler) Section(p, q float64) (float64, float64) {
	j := &r.Joint
	if j.Half == 0 || p < j.At {
		return p, q
	}
	return j.At + (p-j.At-j.Along)/(1+j.Grow), r.Width/2 + (q-r.Width/2-j.Across)/(1+j.Grow)
}

// Plane is where a place on the ruler's face is seen in the first section's plane.
func (r *Ruler) Plane(p, q float64) (float64, float64) {
	j := &r.Joint
	if j.Half == 0 || p < j.At {
		return p, q
	}
	return j.At + j.Along + (p-j.At)*(1+j.Grow), r.Width/2 + j.Across + (q-r.Width/2)*(1+j.Grow)
}

// shift is how far the middle of a graduation's ink lies from the first print's.
func (r *Ruler) shift() float64 { return r.GhostBy * r.Ghost / (1 + r.Ghost) }

// Front is what a scale says at the front end, mm.
func (r *Ruler) Front(s *Scale) float64 { return s.Reading(-r.shift()) }

// at is p of graduation k, where the middle of its ink is.
func (r *Ruler) at(s *Scale, k int) float64 { return s.Zero + float64(k)*s.Step + r.shift() }

// beside is how far q lies from a scale's edge.
func (r *Ruler) beside(s *Scale, q float64) float64 {
	if s.Far {
		return r.Width - q
	}
	return q
}

// ink is how much of a scale's ink lies in a window of half widths hp and hq about (p, q).
func (r *Ruler) ink(s *Scale, p, q, hp, hq float64) float64 {
	e := r.beside(s, q)
	if e > s.longest()+hq || e < s.Start-hq {
		return 0
	}
	v := s.comb(p, e, hp, hq)
	if r.Ghost > 0 {
		v += r.Ghost * s.comb(p-r.GhostBy, e, hp, hq)
	}
	return min(1, v)
}

// comb is the same for one print.
func (s *Scale) comb(p, e, hp, hq float64) float64 {
	reach := hp + s.Line/2
	first := max(s.From, int(math.Ceil((p-reach-s.Zero)/s.Step)))
	last := min(s.To, int(math.Floor((p+reach-s.Zero)/s.Step)))
	sum := 0.0
	for k := first; k <= last; k++ {
		across := ramp(s.length(k)-e, hq)
		if s.Start > 0 {
			across *= ramp(e-s.Start, hq)
		}
		if across == 0 {
			continue
		}
		d := s.Zero + float64(k)*s.Step - p
		along := min(d+s.Line/2, hp) - max(d-s.Line/2, -hp)
		sum += across * max(0, along) / (2 * hp)
	}
	return sum
}

// ramp is the share of a window of half width h about a place d inside an edge that lies inside.
func ramp(d, h float64) float64 { return min(1, max(0, 0.5+d/(2*h))) }

// body is how much of a window lies on the ruler.
func (r *Ruler) body(p, q, hp, hq float64) float64 {
	a := ramp(p, hp) * ramp(r.Length-p, hp) * ramp(q, hq) * ramp(r.Width-q, hq)
	if a == 0 {
		return 0
	}
	if c := r.Corner; c > 0 && p < c {
		if e := min(q, r.Width-q); e < c {
			a *= ramp(c-math.Hypot(c-p, c-e), max(hp, hq))
		}
	}
	if r.Hole > 0 {
		a *= 1 - ramp(r.Hole-math.Hypot(p-r.HoleAt, q-r.Width/2), max(hp, hq))
	}
	return a
}
