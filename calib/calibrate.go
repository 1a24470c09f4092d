package calib

import (
	"context"
	"fmt"
	"slices"

	"leadmark/fit/stat"
	"leadmark/vision/ruler"
)

// Calibrate reads every frame of the run and estimates what the run can tell. A frame that
// cannot be read is refused with its reason; only a picture search that was broken off, or a
// run without any result (*NoResultError), is an error.
func Calibrate(ctx context.Context, run Run, folder Folder, o Options) (Result, error) {
	s, err := newReader(ctx, run, folder, o)
	if err != nil {
		return Result{}, err
	}
	s.interpret()
	if err := s.lookAgain(ctx); err != nil {
		return Result{}, err
	}
	s.correctMoved()
	s.readings = ruler.OneWidth(s.readings)
	s.alignFronts()
	count, err := s.countingLine()
	if err != nil {
		return Result{CountLine: nil, Run: run, Frames: s.frames}, err
	}
	r, count, err := s.settle(count)
	if err != nil {
		return r, err
	}
	r.Warnings = append(r.Warnings, s.warnings()...)
	r.TripLine = s.tripLine(r, count)
	return r, nil
}

// settle measures the advances and estimates what they tell. A counting line of the program's own
// choice is then moved to where the beam was found to trip, and all is done again: advances are
// counted from the place they are named after, and a ruler that hangs a little differently in
// each frame is read where it matters.
func (s *reader) settle(c counted) (Result, counted, error) {
	s.measure(c)
	r, _, err := estimate(s.run, s.frames, c.counting)
	if err != nil {
		return r, c, err
	}
	if c.given || r.Fit.TripOffset == nil {
		r, err = Estimate(s.run, s.frames, c.counting)
		return r, c, err
	}
	moved := *s.tripLine(r, c)
	r = Result{} // of a long run it takes room
	c = counted{line: moved, counting: Counting{Line: &moved}}
	s.measure(c)
	r, err = Estimate(s.run, s.frames, c.counting)
	return r, c, err
}

// reader is a run while it is read. frames, sights and readings go side by side.
type reader struct {
	run      Run
	o        Options
	frames   []FrameResult
	todo     []int  // frames that are shots
	sights   sights // zero for frames that are not looked at
	readings []ruler.Reading
	still    *ruler.Reading  // the frame that shows the trip place
	stillU   float64         // m, standard uncertainty of what it was corrected by
	movedU   map[int]float64 // m, the same of the frames corrected for a move of the camera
	offset   float64         // m, front end's place against the stated one, run's median
	total    int             // frames to look at
	seen     map[int]bool    // frames looked at, for the progress
	marked   map[int]bool    // frames in which the ruler was looked for where a person marked it
	lying    []ruler.Row     // of rulers that the scouts showed to lie still in the scene
	like     *ruler.Like     // what the scouts showed of the one that moves

	slateDoubts []Warning // what slates and shots.csv say differently
	doubts      []Warning // about the run as a whole
}

// spec is what the reader is told.
func (r Run) spec() ruler.Spec {
	return ruler.Spec{Graduation: r.Ruler.Graduation, Front: r.Ruler.Front,
		Band: r.Ruler.Band, BandAt: r.Ruler.BandAt, Toward: r.Travel.direction(), Twin: r.Ruler.TwinFlash > 0}
}

// spec adds what other frames have shown.
func (s *reader) spec() ruler.Spec {
	spec := s.run.spec()
	spec.Like = s.like
	return spec
}

func (s *reader) stillSpec() ruler.Spec {
	spec := s.run.stillSpec()
	spec.Like = s.like
	return spec
}

// likeThese is what some frames show of the ruler.
func (s *reader) likeThese(list []int, h ruler.Hint) *ruler.Like {
	like := &ruler.Like{Pitch: h.Pitch, Dir: h.Dir, Plain: true}
	for _, i := range list {
		if r := s.readings[i]; r.Status == ruler.StatusRead && r.CodeSeen {
			like.Plain = false
		}
	}
	return like
}

// direction is the way of travel as a unit vector of the picture (y down).
func (t Travel) direction() ruler.Point {
	switch t {
	case Down:
		return ruler.Point{Y: 1}
	case Up:
		return ruler.Point{Y: -1}
	case Left:
		return ruler.Point{X: -1}
	case Right:
		return ruler.Point{X: 1}
	}
	return ruler.Point{}
}

// newReader looks at every frame that is a shot, and at the still.
func newReader(ctx context.Context, run Run, folder Folder, o Options) (*reader, error) {
	s := &reader{run: run, o: o, frames: run.Assign(folder), movedU: map[int]float64{}, marked: map[int]bool{}}
	s.sights = newSights(len(s.frames), o.Memory, s.lookOnce(ctx))
	s.readings = make([]ruler.Reading, len(s.frames))
	var all []int
	for i, f := range s.frames {
		switch {
		case f.Status == "":
			s.todo = append(s.todo, i)
			all = append(all, i)
		case f.Reason.Code == CodeStill, f.Reason.Code == CodeNotListed: // which may be a slate
			all = append(all, i)
		}
	}
	if err := s.lookThrough(ctx, all); err != nil {
		return s, err
	}
	s.followSlates()
	return s, s.lookMarked(ctx)
}

// scouts is how many frames are searched everywhere before the others are searched only for
// what those show.
const scouts = 4

// lookThrough looks at a list of frames: first at a few from all over the run, then, told what
// those have in common, at the others; where a frame shows nothing like it, everywhere.
func (s *reader) lookThrough(ctx context.Context, list []int) error {
	var first, rest []int
	for k, i := range list {
		if k*scouts/len(list) != (k-1)*scouts/len(list) || k == 0 {
			first = append(first, i)
		} else {
			rest = append(rest, i)
		}
	}
	s.total = len(list)
	if k, ok := s.settledBefore(); ok {
		s.lying = k.Lying
		s.like = &k.Like
		return s.lookFor(ctx, list, k.Hint)
	}
	slates := false
	if err := s.lookFor(ctx, first, scouting); err != nil {
		return err
	}
	for _, i := range first {
		slates = slates || s.sights.brief[i].symbol.Seen
	}
	seen, moving := s.interpretScouts(first)
	h, ok := s.hint(first)
	h.Slates = slates || !s.allStated()
	if !ok {
		return s.look(ctx, rest, h)
	}
	if len(list) > fewFrames {
		s.narrow(&h, first, seen, moving)
	}
	for _, i := range first {
		if s.sights.brief[i].rows {
			s.o.Memory.KeepFor(s.frames[i].Frame, s.hinted(scouting), s.hinted(h), s.sights.of(i))
		}
	}
	s.like = s.likeThese(first, h)
	s.o.Memory.KeepSettled(s.run.spec().String(), Settled{h, s.lying, *s.like, s.digests(first)})
	return s.lookFor(ctx, rest, h)
}

// settledBefore is what an earlier session settled; ok is false where a frame that settled it is no longer there.
func (s *reader) settledBefore() (k Settled, ok bool) {
	k, ok = s.o.Memory.Settled(s.run.spec().String())
	there := map[string]bool{}
	for _, f := range s.frames {
		there[f.Digest] = true
	}
	for _, d := range k.Scouts {
		ok = ok && there[d]
	}
	return k, ok
}

func (s *reader) digests(list []int) (all []string) {
	for _, i := range list {
		all = append(all, s.frames[i].Digest)
	}
	return all
}

// scouting is the hint the scouts are looked at under.
var scouting = ruler.Hint{Coarse: true}

// interpretScouts reads the scouts, a ruler that lies still left out where there are enough of them to tell, and returns
// what is left of them.
func (s *reader) interpretScouts(list []int) (seen, moving []ruler.Sighting) {
	for _, i := range list {
		seen = append(seen, s.sights.of(i))
	}
	moving = ruler.WithoutStill(seen)
	for k, sighting := range moving {
		s.readings[list[k]] = ruler.Interpret(sighting, s.run.spec())
	}
	return seen, moving
}

// fewFrames is up to how many frames a run is searched everywhere: its scouts tell too little of what lies still.
const fewFrames = 12

// narrow adds to the hint where to look, unless the scouts leave it open which ruler is meant. Rulers that they show to lie
// still are then known, and left out of the scouts too: the others will not be searched where they lie, so that later
// they would seem to come and go.
func (s *reader) narrow(h *ruler.Hint, first []int, seen, moving []ruler.Sighting) {
	for _, i := range first {
		for _, w := range s.readings[i].Warnings {
			if w.Code == "two-rulers" {
				return
			}
		}
	}
	h.Near, h.Within, h.Body = s.near(first, *h)
	s.lying = ruler.StillRows(seen, moving)
	for k, sighting := range moving {
		s.sights.put(first[k], sighting)
	}
}

// sideways is how far beside the track the graduations may lie, in graduations, beyond what the scouts show.
const sideways = 12

// near is the line that the graduations of the frames read lie along, how far from it to look, and how far the
// rulers' bodies reach beyond that.
func (s *reader) near(list []int, h ruler.Hint) (line *ruler.Line, within, body float64) {
	across := h.Dir.Perp()
	var w, outline []float64
	for _, i := range list {
		if r := s.readings[i]; r.Status == ruler.StatusRead {
			for _, c := range r.Outline {
				outline = append(outline, across.Dot(c))
			}
			for _, g := range r.Graduations.Ends() {
				w = append(w, across.Dot(g.At))
			}
		}
	}
	if len(w) == 0 || h.Pitch == 0 {
		return nil, 0, 0
	}
	mid := stat.Median(slices.Clone(w))
	furthest := func(all []float64) (most float64) {
		for _, v := range all {
			most = max(most, abs(v-mid))
		}
		return most
	}
	at := across.Mul(mid)
	return &ruler.Line{A: at, B: at.Add(h.Dir)}, 2*furthest(w) + sideways*h.Pitch, furthest(outline) + sideways*h.Pitch
}

// allStated says whether shots.csv states the conditions of every shot, so that none waits for a slate.
func (s *reader) allStated() bool {
	listed := s.run.byName()
	for _, i := range s.todo {
		if st := listed[s.frames[i].Name].Stated; !st.Drop && !st.Speed && !st.Group {
			return false
		}
	}
	return true
}

// lookFor looks at frames under a hint, and everywhere where a frame shows nothing like it.
func (s *reader) lookFor(ctx context.Context, list []int, h ruler.Hint) error {
	if err := s.look(ctx, list, h); err != nil {
		return err
	}
	var empty []int
	for _, i := range list {
		if b := s.sights.brief[i]; !b.rows && b.refusal == "no-ruler" {
			empty = append(empty, i)
		}
	}
	return s.look(ctx, empty, ruler.Hint{})
}

// interpret reads all frames off their sightings, a ruler that lies still left out.
func (s *reader) interpret() {
	s.moving(func(i int, r ruler.Reading) { s.readings[i] = r })
	s.placeFronts()
	for i, f := range s.frames {
		if f.Reason.Code == CodeStill {
			r := ruler.Interpret(s.sights.of(i), s.stillSpec())
			s.still = &r
		}
	}
}

// moving reads the shots' sightings. take is called for each, several at a time.
func (s *reader) moving(take func(i int, r ruler.Reading)) {
	seen := func(k int) ruler.Sighting { return s.sights.of(s.todo[k]) }
	still := ruler.LookForStill(len(s.todo), func(k int) ruler.Sighting { return seen(k).WithoutRows(s.lying) })
	s.inParallel(len(s.todo), func(k int) {
		shot := seen(k)
		if !s.marked[s.todo[k]] { // where a person says which ruler is meant, that one it is
			shot = still.Without(shot.WithoutRows(s.lying))
		}
		take(s.todo[k], read(shot, s.spec()))
	})
}

// read reads one sighting of a run, in which a second moving ruler leaves it open which is
// meant.
func read(s ruler.Sighting, spec ruler.Spec) ruler.Reading {
	r := ruler.Interpret(s, spec)
	for _, w := range r.Warnings {
		if w.Code == "two-rulers" && r.Status == ruler.StatusRead {
			r.Status, r.Reason = ruler.StatusRefused, ruler.Reason{Code: w.Code,
				Text: w.Text + "; take the other ruler out of the picture"}
		}
	}
	return r
}

// lookAgain gives the frames that were refused a second look, told what the others show.
func (s *reader) lookAgain(ctx context.Context) error {
	h, ok := s.hint(s.todo)
	if !ok {
		return nil
	}
	var again []int
	for _, i := range s.todo {
		if code := s.readings[i].Reason.Code; !s.marked[i] && (code == "no-ruler" || code == "too-few-graduations") {
			again = append(again, i)
		}
	}
	if len(again) == 0 {
		return nil
	}
	if err := s.look(ctx, again, h); err != nil {
		return err
	}
	s.moving(func(i int, r ruler.Reading) {
		if s.readings[i].Status != ruler.StatusRead && r.Status == ruler.StatusRead {
			s.readings[i] = r
		}
	})
	s.placeFronts()
	return nil
}

// hint is what those of a list of frames that were read have in common; ok is false where too
// few were, or they do not agree.
func (s *reader) hint(list []int) (ruler.Hint, bool) {
	var pitch []float64
	var dir ruler.Point
	for _, i := range list {
		if r := s.readings[i]; r.Status == ruler.StatusRead {
			pitch = append(pitch, r.PxPerM*r.Graduation)
			d := r.Scale.Dir
			if d.Dot(s.run.Travel.direction()) < 0 {
				d = d.Mul(-1)
			}
			dir = dir.Add(d)
		}
	}
	if len(pitch) < 2 {
		return ruler.Hint{}, false
	}
	mid := stat.Median(slices.Clone(pitch))
	for _, p := range pitch {
		if abs(p/mid-1) > 0.2 {
			return ruler.Hint{}, false
		}
	}
	return ruler.Hint{Dir: dir.Unit(), Pitch: mid}, true
}

// warnings gathers what the reading of the pictures leaves in doubt.
func (s *reader) warnings() []Warning {
	out := append([]Warning(nil), s.doubts...)
	if s.run.Ruler.Front != nil && abs(s.offset) > 0.3e-3 {
		out = append(out, Warning{Code: "front-offset", Text: fmt.Sprintf(
			"the front end lies %+.1f mm from where front_mm puts it on the ruler's own scale; measure the end of the ruler and correct front_mm",
			1e3*s.offset)})
	}
	out = append(append(out, s.slateDoubts...), s.flashWarnings()...)
	out = append(out, correctionWarnings(s.run, s.frames)...)
	return append(out, readingWarnings(s)...)
}

// readingWarnings joins the readings' own warnings by their code.
func readingWarnings(s *reader) []Warning {
	by := map[string]*Warning{}
	var order []string
	for _, i := range s.todo {
		if s.frames[i].Status != ruler.StatusRead {
			continue
		}
		for _, w := range s.readings[i].Warnings {
			if by[w.Code] == nil {
				by[w.Code] = &Warning{Code: w.Code, Text: w.Text}
				order = append(order, w.Code)
			}
			by[w.Code].Frames = append(by[w.Code].Frames, s.frames[i].Name)
		}
	}
	var out []Warning
	for _, code := range order {
		out = append(out, *by[code])
	}
	return out
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
