package marks

import (
	"math"
	"sort"

	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// addBody finds the ruler's long edges and, where those are asked for, the edges across it between them.
func (f finding) addBody(p pixel.Pyramid, r *ruler.Row, side int, toward ruler.Point, across bool) {
	near, far, blur := f.body(p, side, r.HalfLength, longest(r.Marks))
	r.SideBlur = blur
	if r.Sides = (ruler.Sides{near, far}); !across {
		return
	}
	out := float64(side)
	wa, wb := f.across()-out*r.HalfLength, f.across()+out*(r.HalfLength+unseenBody*r.Pitch)
	mid := f.graduations[len(f.graduations)/2].t
	if near != nil {
		wa = f.acrossAt(*near, mid)
	}
	if far != nil {
		wb = f.acrossAt(*far, mid)
	}
	in := math.Copysign(cornerPart*math.Abs(wb-wa), wb-wa) // corners are rounded
	c := f.newCrossing(p, r.Sides, span{wa + in, wb - in}, wideReach)
	c.leaveOut(*r)
	r.Steps = c.find(wideReach)
	if near != nil && far != nil {
		r.Steps = mergeSteps(c.inner().find(wideReach), r.Steps, r.Pitch)
	}
	plain := c // where no marks cross it
	if clear := f.across() + out*longest(r.Marks); out*(wb-in-clear) >= clearPart*r.Pitch {
		plain = f.newCrossing(p, r.Sides, span{clear, wb - in}, narrowReach)
		plain.leaveOut(*r)
		r.Steps = mergeSteps(r.Steps, plain.find(narrowReach), r.Pitch)
	}
	g := newFace(plain, *r)
	for k, s := range r.Steps {
		if mayMatter(*r, s, toward) {
			r.Steps[k].Outline = f.outline(p, *r, s, g.least)
			if r.Steps[k].Outline == ruler.Untold && g.endsAt(s.T, mid) {
				r.Steps[k].Outline = ruler.MayEnd
			}
		}
	}
	f.addFaceEnds(p, r, g, toward)
	for _, k := range likeliest(*r, toward) {
		c.sharpen(&r.Steps[k])
	}
}

// leaveOut leaves a row's own lines and print out of the edges that are placed, but for a little at its ends,
// where lines tell an end from one more line.
func (c *crossing) leaveOut(r ruler.Row) {
	in := (matterBefore + fieldWide) * r.Pitch
	c.print = span{r.Marks[0].T + in, r.Marks[len(r.Marks)-1].T - in}
	c.bold = matterBold * r.Contrast * 255
}

// likeliest are the steps that may be the ruler's end or a band's edge and stand out most among
// those, the nearer the marks the more: placing an edge as well as it can be takes as long as
// finding the row, and the backdrop is full of faint ones.
func likeliest(r ruler.Row, toward ruler.Point) []int {
	first, last := r.Marks[0].T, r.Marks[len(r.Marks)-1].T
	plain := func(k int) float64 {
		s := r.Steps[k]
		return math.Abs(s.Contrast) * s.Coherent / (1 + plainNear*max(0, s.T-last, first-s.T)/r.Pitch)
	}
	var out []int
	for k := range r.Steps {
		if mayMatter(r, r.Steps[k], toward) {
			out = append(out, k)
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return plain(out[a]) > plain(out[b]) })
	n := 0
	for n < len(out) && (n < mostPlaced || plain(out[n]) > faintPlaced*plain(out[0])) {
		n++
	}
	return out[:n]
}

// mayMatter says whether a step can be the ruler's end, past the marks or little before the last,
// or a bold band's edge. Where it is known which way the end points, only that end counts.
func mayMatter(r ruler.Row, s ruler.Step, toward ruler.Point) bool {
	first, last := r.Marks[0].T, r.Marks[len(r.Marks)-1].T
	way := r.Dir.Dot(toward)
	switch {
	case s.T > last+matterPast*r.Pitch || s.T < first-matterPast*r.Pitch:
		return false
	case r.Within(s.T) && math.Abs(s.Contrast) > matterBold*r.Contrast:
		return true
	case s.T > last-matterBefore*r.Pitch:
		return way > -matterWay
	case s.T < first+matterBefore*r.Pitch:
		return way < matterWay
	}
	return false
}

// longest is how far the longest marks run past the band's middle, a few odd ones left out.
func longest(marks []ruler.Mark) float64 {
	v := make([]float64, len(marks))
	for i, k := range marks {
		v[i] = k.Length
	}
	sort.Float64s(v)
	return v[len(v)*94/100]
}
