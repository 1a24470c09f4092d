package marks

import (
	"math"
	"sort"

	"leadmark/fit/stat"
	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// Past a ruler's end some of its lines go on lighter and others darker where the backdrop has slats,
// stripes or print, and no step of one sense is seen all across. But its face ends: on most lines the
// tone stays what it is up to one straight line, and is another from there on.

// face is the ruler's face between its long edges, in bands along it.
type face struct {
	*crossing
	least float64 // grey levels by which a tone is another
	way   int     // from the marks out: +1 or -1 along the row
}

// newFace takes the tones of a face between its first mark and its last for its own. Others are those that
// differ by a good part of what marks do, or by plainly more than its own do from one stretch to the next.
func newFace(c *crossing, r ruler.Row) face {
	from, to := r.Marks[0].T, r.Marks[len(r.Marks)-1].T
	f := face{crossing: c, way: 1, least: max(leastStep, faintest*r.Contrast*255)}
	var own []float64
	var t around
	long := f.long()
	for i := int(c.s.col(from)) + long; i < int(c.s.col(to))-long; i += long {
		for _, tone := range c.tone {
			if f.about(&t, tone, i) {
				own = append(own, off(t.after, stat.Median(t.before)))
			}
		}
	}
	if len(own) > 0 {
		f.least = max(leastStep, min(f.least, plainlyOther*stat.Median(own)))
	}
	return f
}

// addFaceEnds adds the ends of a face past the marks, on the sides where no edge across shows the ruler's
// outline to end and one is looked for.
func (f finding) addFaceEnds(p pixel.Pyramid, r *ruler.Row, g face, toward ruler.Point) {
	first, last := r.Marks[0].T, r.Marks[len(r.Marks)-1].T
	before, past := matterBefore*r.Pitch, matterPast*r.Pitch
	var found []ruler.Step
	for _, side := range []struct {
		way      int
		from, to float64
	}{{-1, first - past, first + before}, {+1, last - before, last + past}} {
		if float64(side.way)*r.Dir.Dot(toward) > -matterWay && !endsWithin(*r, side.from, side.to) {
			found = append(found, g.ends(side.from, side.to, side.way)...)
		}
	}
	for _, s := range found {
		if !stepAt(*r, s.T) {
			if s.Outline = f.outline(p, *r, s, g.least); s.Outline == ruler.Untold {
				s.Outline = ruler.MayEnd
			}
			r.Steps = append(r.Steps, s)
		}
	}
	sort.Slice(r.Steps, func(i, j int) bool { return r.Steps[i].T < r.Steps[j].T })
}

// stepAt says whether an edge all across lies at a place.
func stepAt(r ruler.Row, t float64) bool {
	for _, o := range r.Steps {
		if !o.Face && o.Coherent >= ruler.WholeWidth && math.Abs(o.T-t) < r.Pitch/sameStep {
			return true
		}
	}
	return false
}

// endsWithin says whether an edge between two places shows the outline to end.
func endsWithin(r ruler.Row, from, to float64) bool {
	for _, s := range r.Steps {
		if s.Outline == ruler.Ends && s.T > from && s.T < to {
			return true
		}
	}
	return false
}

// ends finds where the face ends between two places, px along, seen from the marks the way told: midway in
// each run of columns about which it does.
func (f face) ends(from, to float64, way int) []ruler.Step {
	var out []ruler.Step
	f.way = way
	last := min(f.s.nt-1, int(f.s.col(to)))
	for i := max(0, int(f.s.col(from))); i <= last; i++ {
		first := i
		for i <= last && f.endsAbout(i) {
			i++
		}
		if i == first {
			continue
		}
		if s, ok := f.place((first + i - 1) / 2); ok {
			out = append(out, s)
		}
	}
	return out
}

// endsAt says whether the face ends at a place, px along, seen from another: past a line, or print, it goes
// on as before.
func (f face) endsAt(t, from float64) bool {
	if f.way = 1; t < from {
		f.way = -1
	}
	return f.endsAbout(int(math.Round(f.s.col(t))))
}

// endsAbout says whether most bands keep a tone of their own before a column, and most of those have
// another past it.
func (f face) endsAbout(i int) bool {
	var t around
	steady, changed := 0, 0
	for _, tone := range f.tone {
		if !f.about(&t, tone, i) {
			continue
		}
		own := stat.Median(t.before)
		if off(t.before, own) > f.least {
			continue
		}
		steady++
		if off(t.after, own) > f.least {
			changed++
		}
	}
	return steady > 0 && float64(steady) >= steadyBands*float64(len(f.tone)) && float64(changed) >= leastAgree*float64(steady)
}

// around are the tones of a band before and past a column, seen from the marks.
type around struct{ before, after []float64 }

// long is over how many columns they are taken.
func (f face) long() int { return int(facePitches * f.pitch) }

// about takes the tones of a band about a column; false where less than half of either is in the picture.
func (f face) about(t *around, tone []float64, i int) bool {
	t.before, t.after = t.before[:0], t.after[:0]
	gap := int(math.Ceil(edgeGapParts*f.pitch)) + 1
	for k := gap; k <= gap+f.long(); k++ {
		t.before, t.after = appendSeen(t.before, tone, i-f.way*k), appendSeen(t.after, tone, i+f.way*k)
	}
	return 2*len(t.before) >= f.long() && 2*len(t.after) >= f.long() && len(t.before) > 0 && len(t.after) > 0
}

func appendSeen(seen, tone []float64, i int) []float64 {
	if i < 0 || i >= len(tone) || tone[i] != tone[i] {
		return seen
	}
	return append(seen, tone[i])
}

// place places an end of the face about a column: by the straight line on which most bands leave their
// tones, then by the steepest places of the rows beside that.
func (f face) place(i int) (ruler.Step, bool) {
	var w, t, size []float64
	sign := make([]float64, len(f.tone))
	for b, tone := range f.tone {
		at, step := f.leaves(tone, i)
		if step == 0 {
			continue
		}
		first, last := f.rows[b*bandRows], f.rows[b*bandRows+bandRows-1]
		w, t, size = append(w, float64(first+last)/2-f.pivot), append(t, float64(at)), append(size, math.Abs(step))
		sign[b] = step * float64(f.way)
	}
	a, slope, on := mostOn(w, t, sameColumn)
	share := float64(on) / float64(len(f.tone))
	if share < leastAgree {
		return ruler.Step{}, false
	}
	s, ok := f.placeAlong(a, slope, placeReach*narrowReach*f.pitch,
		func(k int) float64 { return sign[min(k/bandRows, len(sign)-1)] })
	s.Coherent, s.Face, s.Contrast = share, true, stat.Median(size)/255
	return s, ok
}

// leaves is the first column about i, from the marks outward, from which on a band has not the tone it has
// before, and by how much it differs there; 0 where it keeps it.
func (f face) leaves(tone []float64, i int) (at int, step float64) {
	var t around
	if !f.about(&t, tone, i) {
		return 0, 0
	}
	own, long := stat.Median(t.before), f.long()
	for k := -long / 2; k <= long; k++ {
		at = i + f.way*k
		if next := at + f.way; at >= 0 && at < len(tone) && next >= 0 && next < len(tone) &&
			math.Abs(tone[at]-own) > f.least && math.Abs(tone[next]-own) > f.least {
			return at, tone[next] - own
		}
	}
	return 0, 0
}

// mostOn is the line t = a + slope w through two of the points that most others are so near to, and how
// many those are. What leaves its line late, as bands do whose backdrop has their tone, does not move it.
func mostOn(w, t []float64, near float64) (a, slope float64, on int) {
	for i := range w {
		for j := i + 1; j < len(w); j++ {
			b := (t[j] - t[i]) / (w[j] - w[i])
			n := 0
			for k := range w {
				if math.Abs(t[k]-t[i]-b*(w[k]-w[i])) <= near {
					n++
				}
			}
			if n > on {
				a, slope, on = t[i]-b*w[i], b, n
			}
		}
	}
	return a, slope, on
}

// off is the median distance of some tones from one; it overwrites them.
func off(tones []float64, from float64) float64 {
	for i, v := range tones {
		tones[i] = math.Abs(v - from)
	}
	return stat.Median(tones)
}
