package read

import (
	"context"
	"slices"

	"leadmark/calib/read/cache"
	"leadmark/calib/read/still"
	"leadmark/calib/runfile"
	"leadmark/fit/note"
	"leadmark/fit/parallel"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
)

// looked is a run of which every frame was looked at.
type looked struct {
	run    runfile.Run
	o      Options
	shots  []Shot
	list   []int // those of them that were looked at
	at     []int // of these, those that are to be read
	seen   *cache.Sightings
	track  Track
	marked map[int]bool // frames in which the ruler was looked for where a person marked it
	still  still.Found  // rulers that lie still
}

// findStill looks through all frames for rulers that lie still beside those that the track tells of.
func (l looked) findStill() looked {
	l.still = lookForStill(l.shots, l.list, l.track.Hint, func(i int) ruler.Sighting {
		return still.Without(l.seen.Of(i), l.track.Lying)
	})
	return l
}

// interpret reads the shots off their sightings, a ruler that lies still left out. The readings are
// side by side with the shots, zero for those that are not to be read.
func interpret(l looked) []ruler.Reading {
	lying := append(slices.Clone(l.track.Lying), l.still.Rows...)
	out := make([]ruler.Reading, len(l.shots))
	parallel.Each(len(l.at), l.o.Workers, func(k int) {
		i := l.at[k]
		shot := l.seen.Of(i)
		if !l.marked[i] { // where a person says which ruler is meant, that one it is
			shot = still.Without(shot, lying)
		}
		out[i] = withFront(interpretOne(shot, l.track.spec(specOf(l.run))), l.run.Corrections.Of(l.shots[i].Name))
	})
	return out
}

// interpretOne reads one sighting of a run, in which a second moving ruler leaves it open which is
// meant.
func interpretOne(s ruler.Sighting, spec ruler.Spec) ruler.Reading {
	r := reading.Interpret(s, spec)
	for _, w := range r.Warnings {
		if w.Code == codeTwoRulers && r.Status == ruler.StatusRead {
			r.Status, r.Reason = ruler.StatusRefused, note.Of(codeTwoRulers, "which", w)
		}
	}
	return r
}

// interpretAgain gives the frames that were refused a second look, told what the others show. Where only a
// ruler that lies still was seen on the track, there is nothing more to be found.
func interpretAgain(ctx context.Context, v *viewer, l looked) ([]ruler.Reading, error) {
	readings := interpret(l)
	h, ok := common(l.run, readings)
	if !ok {
		return readings, nil
	}
	var again []int
	for _, i := range l.at {
		why := readings[i].Reason
		if l.marked[i] || l.track.Hint.Near != nil && why.Case == "still" {
			continue
		}
		if why.Code == "no-ruler" || why.Code == "too-few-graduations" {
			again = append(again, i)
		}
	}
	if len(again) == 0 {
		return readings, nil
	}
	if err := v.look(ctx, again, h); err != nil {
		return nil, err
	}
	out := interpret(l.findStill())
	for i, r := range readings {
		if r.Status == ruler.StatusRead || out[i].Status != ruler.StatusRead {
			out[i] = r
		}
	}
	return out, nil
}

// interpretStill reads the frame that shows the trip place; nil where there is none.
func interpretStill(l looked) *ruler.Reading {
	for i, f := range l.shots {
		if f.Reason.Code == CodeStill {
			r := reading.Interpret(l.seen.Of(i), l.track.spec(stillSpec(l.run)))
			return &r
		}
	}
	return nil
}
