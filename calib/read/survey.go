package read

import (
	"context"

	"leadmark/vision/ruler"
)

// scouts is how many frames are searched everywhere before the others are searched only for
// what those show.
const scouts = 4

// fewFrames is up to how many frames a run is searched everywhere: its scouts tell too little of
// what lies still.
const fewFrames = 12

// scouting is the hint the scouts are looked at under.
func scouting() ruler.Hint { return ruler.Hint{Coarse: true} }

// survey looks at a list of frames: first at a few from all over the run, then, told what those
// have in common, at the others; where a frame shows nothing like it, everywhere. It returns the
// track, and what the few were read as by themselves, side by side with all frames.
func survey(ctx context.Context, v *viewer, list []int) (Track, []ruler.Reading, error) {
	alone := make([]ruler.Reading, len(v.shots))
	if t, ok := surveyedBefore(v); ok {
		return t, alone, v.lookFor(ctx, list, t.Hint)
	}
	first, rest := spreadOver(list, scouts)
	if err := v.lookFor(ctx, first, scouting()); err != nil {
		return Track{}, alone, err
	}
	var seen []ruler.Sighting
	slates := !allStated(v)
	for _, i := range first {
		seen = append(seen, v.seen.Of(i))
		slates = slates || v.seen.Brief(i).Symbol.Seen
	}
	t, s, ok := trackOf(v.run, seen, len(list) > fewFrames)
	for k, i := range first {
		alone[i] = s.readings[k]
	}
	t.Hint.Slates = slates
	if !ok {
		return t, alone, v.look(ctx, rest, t.Hint)
	}
	for k, i := range first {
		if s.narrowed {
			v.seen.Put(i, s.moving[k])
		}
		t.Scouts = append(t.Scouts, v.shots[i].Digest)
		if v.seen.Brief(i).Rows {
			v.o.Cache.KeepFor(v.shots[i].Frame, hinted(v.run, scouting()), hinted(v.run, t.Hint), v.seen.Of(i))
		}
	}
	v.o.Cache.KeepOfRun(specOf(v.run).String(), t)
	return t, alone, v.lookFor(ctx, rest, t.Hint)
}

// spreadOver takes n of a list from all over it.
func spreadOver(list []int, n int) (some, rest []int) {
	for k, i := range list {
		if k*n/len(list) != (k-1)*n/len(list) || k == 0 {
			some = append(some, i)
		} else {
			rest = append(rest, i)
		}
	}
	return some, rest
}

// surveyedBefore is the track that an earlier session found; ok is false where a frame that showed
// it is no longer there.
func surveyedBefore(v *viewer) (t Track, ok bool) {
	ok = v.o.Cache.OfRun(specOf(v.run).String(), &t)
	there := map[string]bool{}
	for _, f := range v.shots {
		there[f.Digest] = true
	}
	for _, d := range t.Scouts {
		ok = ok && there[d]
	}
	return t, ok
}

// allStated says whether shots.csv states the conditions of every shot, so that none waits for a
// slate.
func allStated(v *viewer) bool {
	listed := v.run.Listed()
	for _, i := range toRead(v.shots) {
		if st := listed[v.shots[i].Name].Stated; !st.Drop && !st.Speed && !st.Group {
			return false
		}
	}
	return true
}
