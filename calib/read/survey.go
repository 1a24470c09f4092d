package read

import (
	"context"
	"math"
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
	first, t, s, ok, err := scout(ctx, v, pictures)
	if err != nil {
		return Track{}, err
	}
	rest := slices.DeleteFunc(slices.Clone(list), func(i int) bool { return slices.Contains(first, i) })
	slates := !allStated(v)
	for _, i := range first {
		slates = slates || v.seen.Brief(i).Symbol.Seen
	}
	t.Hint.Slates = slates
	if !ok {
		if len(located(s.readings)) == 0 {
			t.Hint.Least = finest
		}
		return t, v.look(ctx, rest, t.Hint)
	}
	for k, i := range first {
		if s.narrowed {
			v.seen.Put(i, s.moving[k])
		}
		t.Scouts = append(t.Scouts, v.shots[i].Digest)
		if v.seen.Brief(i).Rows {
			v.o.Cache.KeepFor(v.shots[i].Frame, hinted(v.run, s.hints[k]), hinted(v.run, t.Hint), v.seen.Of(i))
		}
	}
	v.o.Cache.KeepOfRun(specOf(v.run).String(), t)
	return t, v.lookFor(ctx, rest, t.Hint)
}

// scout looks at a few pictures from all over a run, and at more of a long one while too few of them
// show a ruler: without a track every frame would be searched everywhere.
func scout(ctx context.Context, v *viewer, pictures []int) (first []int, t Track, s scouted, ok bool, err error) {
	more, _ := spreadOver(pictures, scouts)
	h := scouting()
	var hints []ruler.Hint
	for {
		if err := v.look(ctx, more, h); err != nil {
			return nil, Track{}, scouted{}, false, err
		}
		first, hints = append(first, more...), append(hints, slices.Repeat([]ruler.Hint{h}, len(more))...)
		var seen []ruler.Sighting
		for _, i := range first {
			seen = append(seen, v.seen.Of(i))
		}
		lying := lookForStill(v.shots, first, ruler.Hint{}, v.seen.Of).Rows
		t, s, ok = trackOf(v.run, seen, lying, len(pictures) > fewFrames)
		s.hints = hints
		enough := ok || len(located(s.readings)) >= fewestLocated
		if enough || len(pictures) <= fewFrames || len(first) >= mostScouts {
			return first, t, s, ok, nil
		}
		h.Least = finest
		if more = scattered(pictures, first, scouts); len(more) == 0 {
			return first, t, s, ok, nil
		}
	}
}

// scattered takes n more of a list, from all over it, but in no even steps: frames that repeat, as
// those of every height of a run may, would show the same once more. They are at multiples of the golden
// ratio, modulo 1 (Weyl's equidistribution).
func scattered(list, had []int, n int) (more []int) {
	for k := 1; len(more) < n && k <= 2*len(list); k++ {
		at := math.Mod(float64(k)/math.Phi, 1)
		i := list[int(at*float64(len(list)))]
		if !slices.Contains(had, i) && !slices.Contains(more, i) {
			more = append(more, i)
		}
	}
	return more
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
