package read

import (
	"math"
	"slices"

	"leadmark/calib/read/still"
	"leadmark/calib/runfile"
	"leadmark/fit/note"
	"leadmark/fit/stat"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
)

// Track is what a few frames of a run show that holds for the others: what the ruler looks like and
// where it runs.
type Track struct {
	Hint   ruler.Hint
	Lying  []ruler.Row // of rulers that lie still in the scene
	Like   *ruler.Like // the one that moves; nil: nothing is known
	Scouts []string    // digests of those few frames
}

// spec is what the reading of a ruler is told, with what other frames have shown.
func (t Track) spec(s ruler.Spec) ruler.Spec {
	s.Like = t.Like
	return s
}

// scouted are the scouts' sightings and readings, side by side, a ruler that lies still left out
// where there are enough of them to tell.
type scouted struct {
	moving   []ruler.Sighting
	hints    []ruler.Hint // under which they were looked at
	readings []ruler.Reading
	narrowed bool // the track says where to look, and which rulers lie still
}

// trackOf is what the scouts show, the rows of rulers that lie still left out; ok is false where too
// few of them were read, or they do not agree. Where the run is long they also tell where to look.
func trackOf(r runfile.Run, seen []ruler.Sighting, lying []ruler.Row, long bool) (t Track, s scouted, ok bool) {
	for _, sighting := range seen {
		moving := still.Without(sighting, lying)
		s.moving = append(s.moving, moving)
		s.readings = append(s.readings, reading.Interpret(moving, specOf(r)))
	}
	if t.Hint, ok = common(r, s.readings); !ok {
		return t, s, false
	}
	t.Like = like(s.readings, t.Hint)
	// Unless they leave it open which ruler is meant. Rulers that they show to lie still are left
	// out of the scouts too: the others will not be searched where they lie, so that later they
	// would seem to come and go.
	if s.narrowed = long && !slices.ContainsFunc(s.readings, twoRulers); s.narrowed {
		t.Hint.Near, t.Hint.Within, t.Hint.Body = near(s.readings, t.Hint)
		t.Lying = lying
	}
	return t, s, true
}

func twoRulers(r ruler.Reading) bool {
	return slices.ContainsFunc(r.Warnings, func(w note.Note) bool { return w.Code == codeTwoRulers })
}

// codeTwoRulers is ruler's warning that it is left open which of two rulers is meant.
const codeTwoRulers = "two-rulers"

// located are those readings whose ruler's lines were found and counted, be they refused because its front
// end does not show.
func located(readings []ruler.Reading) (out []ruler.Reading) {
	for _, g := range readings {
		if g.PxPerM > 0 && g.Graduation > 0 {
			out = append(out, g)
		}
	}
	return out
}

// common is what those readings whose ruler was located have in common; ok is false where too few were, or
// they do not agree.
func common(r runfile.Run, readings []ruler.Reading) (ruler.Hint, bool) {
	var pitch []float64
	var dir ruler.Point
	for _, g := range located(readings) {
		pitch = append(pitch, g.PxPerM*g.Graduation)
		dir = dir.Add(wayOf(r, g))
	}
	if len(pitch) < fewestLocated {
		return ruler.Hint{}, false
	}
	mid := stat.Median(slices.Clone(pitch))
	for _, p := range pitch {
		if math.Abs(p/mid-1) > pitchesAlike {
			return ruler.Hint{}, false
		}
	}
	return ruler.Hint{Dir: dir.Unit(), Pitch: mid}, true
}

// wayOf is the direction of a ruler's axis, the way it travels.
func wayOf(r runfile.Run, g ruler.Reading) ruler.Point {
	if d := g.Scale.Dir; d.Dot(r.Travel.Direction()) < 0 {
		return d.Mul(-1)
	}
	return g.Scale.Dir
}

// like is what readings show of the ruler that moves.
func like(readings []ruler.Reading, h ruler.Hint) *ruler.Like {
	l := &ruler.Like{Pitch: h.Pitch, Dir: h.Dir, Plain: true}
	for _, r := range located(readings) {
		if r.CodeSeen {
			l.Plain = false
		}
	}
	return l
}

// near is the line that the graduations of the rulers located lie along, how far from it to look, and
// how far the rulers' bodies reach beyond that.
func near(readings []ruler.Reading, h ruler.Hint) (line *ruler.Line, within, body float64) {
	across := h.Dir.Perp()
	var w, outline []float64
	for _, r := range located(readings) {
		for _, c := range r.Outline {
			outline = append(outline, across.Dot(c))
		}
		for _, g := range r.Graduations.Ends() {
			w = append(w, across.Dot(g.At))
		}
	}
	if len(w) == 0 || h.Pitch == 0 {
		return nil, 0, 0
	}
	mid := stat.Median(slices.Clone(w))
	furthest := func(all []float64) (most float64) {
		for _, v := range all {
			most = max(most, math.Abs(v-mid))
		}
		return most
	}
	at := across.Mul(mid)
	return &ruler.Line{A: at, B: at.Add(h.Dir)}, 2*furthest(w) + sideways*h.Pitch, furthest(outline) + sideways*h.Pitch
}
