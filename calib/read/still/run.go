package still

import (
	"math"

	"leadmark/calib/runfile"
	"leadmark/vision/ruler"
)

// Frame is a frame of a run, as far as it tells what lies still.
type Frame struct {
	Done *runfile.Conditions // how the ruler was moved; nil: not known
	Rest bool                // it was not: the frame shows the trip place
}

// Run is the frames of a run, of copies of one picture one, and what was seen in them.
type Run struct {
	Frames   []Frame
	Sighting func(k int) ruler.Sighting
	Hint     ruler.Hint // what most frames were looked at under: where those that show a ruler were searched
}

// otherwise says whether a ruler that moves stands elsewhere in one frame than in another, for what
// was done in them.
func otherwise(a, b Frame) bool {
	if a.Rest || b.Rest {
		return a.Done != nil || b.Done != nil
	}
	if a.Done == nil || b.Done == nil {
		return false
	}
	p, q := *a.Done, *b.Done
	differ := func(x, y, ux, uy float64) bool {
		return x > 0 && y > 0 && math.Abs(x-y) > surelyOther*math.Hypot(ux, uy)
	}
	return p.Delay != q.Delay ||
		differ(p.Drop, q.Drop, math.Hypot(p.DropU, p.DropShotU), math.Hypot(q.DropU, q.DropShotU)) ||
		differ(p.Speed, q.Speed, p.SpeedU, q.SpeedU)
}

// some takes of a long run so many frames from all over it.
func (r Run) some() []int {
	list := make([]int, min(len(r.Frames), mostCompared))
	for k := range list {
		list[k] = k * len(r.Frames) / len(list)
	}
	return list
}

// searched says whether a frame was searched where a row lies: one that shows a ruler where the hint
// has it was searched nowhere else.
func (r Run) searched(row ruler.Row, seen []ruler.Row) bool {
	if r.Hint.Near == nil || r.onTrack(row) {
		return true
	}
	for _, s := range seen {
		if r.onTrack(s) {
			return false
		}
	}
	return true
}

func (r Run) onTrack(row ruler.Row) bool {
	mid := row.Mid((row.Marks[0].T + row.Marks[len(row.Marks)-1].T) / 2)
	return math.Abs(r.Hint.Near.Distance(mid)) <= r.Hint.Within
}
