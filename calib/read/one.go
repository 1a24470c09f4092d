package read

import (
	"context"

	"leadmark/calib/runfile"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// One looks at one frame of a run by itself, as All would when it comes to it: what is seen is kept
// in o.Cache, so that All does not look again. Status, Reason, Reading and, where the front end was
// found, its place are set; an advance needs the other frames. A frame that is no shot is left out
// with its reason.
func One(ctx context.Context, r runfile.Run, f frame.Frame, o Options) (Shot, error) {
	shots := Assign(r, Folder{Frames: []frame.Frame{f}})
	if len(worthALook(shots)) == 0 {
		return shots[0], nil
	}
	v := newViewer(ctx, r, shots, 0, o)
	var track Track
	if !o.Cache.OfRun(specOf(r).String(), &track) {
		track = Track{Hint: scouting()}
	}
	if err := v.lookFor(ctx, []int{0}, track.Hint); err != nil {
		return shots[0], err
	}
	marked, err := lookMarked(ctx, v, []int{0})
	if err != nil {
		return shots[0], err
	}
	l := looked{run: r, o: o, shots: shots, list: []int{0}, at: []int{0}, seen: v.seen, track: track, marked: marked}
	return byItself(r, shots[0], interpret(l)[0], v.seen.Brief(0).Symbol), nil
}

// byItself is a shot with what its frame shows by itself.
func byItself(r runfile.Run, s Shot, g ruler.Reading, symbol ruler.Symbol) Shot {
	s.Reading = g
	if s.Status != "" { // a still, or a frame that nobody listed: no shot yet
		return s
	}
	s.Status, s.Reason = g.Status, g.Reason
	if slate, is, _ := runfile.ParseSlate(symbol.Text); is && g.Status != ruler.StatusRead {
		s.LeaveOut(shown{Slate: slate}.says())
		return s
	}
	if g.Status != ruler.StatusRead {
		s.Reading = ruler.Reading{}
		return s
	}
	if p, ok := sharedFront(r.Ruler, []ruler.Reading{g}).place(g); ok {
		s.FrontPX, s.PxPerM = p, g.PxPerM
	}
	return s
}
