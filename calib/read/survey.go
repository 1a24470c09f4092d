package read

import (
	"context"
	"slices"

	"leadmark/vision/ruler"
)

// scouting is the hint the scouts are looked at under.
func scouting() ruler.Hint { return ruler.Hint{Coarse: true} }

// survey looks at a list of frames: first at a few pictures from all over the run, then, told what
// those have in common, at the others; where a frame shows nothing like it, everywhere.
func survey(ctx context.Context, v *viewer, list []int) (Track, error) {
	if t, ok := surveyedBefore(v); ok {
		return t, v.lookFor(ctx, list, t.Hint)
	}
	pictures := distinct(v.shots, list)
	first, _ := spreadOver(pictures, scouts)
	rest := slices.DeleteFunc(slices.Clone(list), func(i int) bool { return slices.Contains(first, i) })
	if err := v.lookFor(ctx, first, scouting()); err != nil {
		return Track{}, err
	}
	var seen []ruler.Sighting
	slates := !allStated(v)
	for _, i := range first {
		seen = append(seen, v.seen.Of(i))
		slates = slates || v.seen.Brief(i).Symbol.Seen
	}
	lying := lookForStill(v.shots, first, ruler.Hint{}, v.seen.Of).Rows
	t, s, ok := trackOf(v.run, seen, lying, len(pictures) > fewFrames)
	t.Hint.Slates = slates
	if !ok {
		return t, v.look(ctx, rest, t.Hint)
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
	return t, v.lookFor(ctx, rest, t.Hint)
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
