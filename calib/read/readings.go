package read

import (
	"context"

	"leadmark/calib/read/cache"
	"leadmark/calib/runfile"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
)

// Readings are what the frames of a run show together: of one ruler, as seen from one place.
type Readings struct {
	Shots []Shot // of the run, without what was read; those with an empty Status were to be read

	run  runfile.Run
	list []ruler.Reading // side by side with Shots, zero where nothing was to be read
	// carried is how the scene of a frame lies against that of most, where the camera was moved. A
	// reading's places are those of its own frame.
	carried map[int]ruler.Shift
	still   *ruler.Reading // the frame that shows the trip place; nil where there is none
	stillU  float64        // m, standard uncertainty of its place for moves of the camera
	front   front
	offset  float64 // m, front end's place against the stated one, run's median

	lying  []Warning // of rulers that may lie still
	moved  []Warning // of moves of the camera
	slates []Warning // what slates and shots.csv say differently
}

// All reads every frame of a run. A frame that cannot be read is refused with its reason; only a
// search that was broken off is an error.
func All(ctx context.Context, r runfile.Run, folder Folder, o Options) (Readings, error) {
	shots := Assign(r, folder)
	list := worthALook(shots)
	v := newViewer(ctx, r, shots, len(list), o)
	track, err := survey(ctx, v, list)
	if err != nil {
		return Readings{}, err
	}
	shots, slates := followSlates(r, track, shots, list, v.seen)
	marked, err := lookMarked(ctx, v, toRead(shots))
	if err != nil {
		return Readings{}, err
	}
	l := looked{run: r, o: o, shots: shots, list: list, at: toRead(shots), seen: v.seen, track: track,
		marked: marked}.findStill()
	readings, err := interpretAgain(ctx, v, l)
	if err != nil {
		return Readings{}, err
	}
	g := Readings{Shots: shots, run: r, list: readings, still: interpretStill(l), slates: slates,
		lying: stillWarnings(l.still)}
	return reconcile(g, o.Shift, v.seen), nil
}

// worthALook lists the frames that are shots, and those that show the trip place or may be slates.
func worthALook(shots []Shot) (list []int) {
	for i, s := range shots {
		if s.Status == "" || s.Reason.Code == CodeStill || s.Reason.Code == CodeNotListed {
			list = append(list, i)
		}
	}
	return list
}

// reconcile has the readings of a run speak of one ruler, as seen from one place: moves of the
// camera are taken off, all have one width and one front end.
func reconcile(g Readings, shift ShiftFunc, seen *cache.Sightings) Readings {
	g = correctMoved(g, shift, seen)
	g.list = reading.OneWidth(g.list)
	g.front = sharedFront(g.run.Ruler, g.list)
	g.offset = frontOffset(g.run, g.Shots, g.list)
	return g
}
