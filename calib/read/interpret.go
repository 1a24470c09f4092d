package read

import (
	"context"

	"leadmark/calib/read/cache"
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
	at     []int // those of them that are to be read
	seen   *cache.Sightings
	track  Track
	marked map[int]bool // frames in which the ruler was looked for where a person marked it
}

// interpret reads the shots off their sightings, a ruler that lies still left out. The readings are
// side by side with the shots, zero for those that are not to be read.
func interpret(l looked) []ruler.Reading {
	seen := func(k int) ruler.Sighting { return l.seen.Of(l.at[k]) }
	still := ruler.LookForStill(len(l.at), func(k int) ruler.Sighting { return seen(k).WithoutRows(l.track.Lying) })
	out := make([]ruler.Reading, len(l.shots))
	parallel.Each(len(l.at), l.o.Workers, func(k int) {
		shot, i := seen(k), l.at[k]
		if !l.marked[i] { // where a person says which ruler is meant, that one it is
			shot = still.Without(shot.WithoutRows(l.track.Lying))
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

// interpretAgain gives the frames that were refused a second look, told what the others show.
func interpretAgain(ctx context.Context, v *viewer, l looked, readings []ruler.Reading) ([]ruler.Reading, error) {
	h, ok := common(l.run, readings)
	if !ok {
		return readings, nil
	}
	var again []int
	for _, i := range l.at {
		if code := readings[i].Reason.Code; !l.marked[i] && (code == "no-ruler" || code == "too-few-graduations") {
			again = append(again, i)
		}
	}
	if len(again) == 0 {
		return readings, nil
	}
	if err := v.look(ctx, again, h); err != nil {
		return nil, err
	}
	out := interpret(l)
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
