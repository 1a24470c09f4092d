package moves

import (
	"reflect"
	"testing"

	"leadmark/vision/ruler"
)

// watched is a run of which each frame's scene lies so many px to the right; below nil it shows too
// little to tell. Frames of unread were to be read and were not.
func watched(at []int, u float64, whole bool, unread ...int) Run {
	r := Run{Read: func(i int) bool {
		for _, k := range unread {
			if k == i {
				return false
			}
		}
		return true
	}, Scene: func(i int) ruler.Backdrop { return ruler.Backdrop{Width: at[i]} },
		Shift: func(a, b ruler.Backdrop) (ruler.Shift, bool) {
			d := ruler.Shift{Move: ruler.Point{X: float64(b.Width - a.Width)}, Whole: whole}
			d.Cov[0][0], d.Cov[1][1] = u*u, u*u
			return d, a.Width >= 0 && b.Width >= 0
		}}
	for i := range at {
		r.Frames = append(r.Frames, i)
	}
	return r
}

// A knock is found with all frames behind it, those too that show nothing or were not read, and told
// from where most frames have the scene.
func TestFindsAKnock(t *testing.T) {
	for name, c := range map[string]struct {
		run    Run
		frames []int
		move   float64
		main   int
	}{
		"none":  {watched([]int{0, 1, 0, 2, 1}, 0.4, true), nil, 0, -1},
		"late":  {watched([]int{0, 0, 0, 0, 9, 9}, 0.1, true), []int{4, 5}, 9, 0},
		"early": {watched([]int{9, 9, 0, 0, 0}, 0.1, true), []int{0, 1}, 9, 2},
		"plain and unread": {watched([]int{0, 0, 0, 0, 0, 9, -1, 300, 9}, 0.1, true, 7),
			[]int{5, 6, 7, 8}, 9, 0},
		"a single frame, beyond doubt": {watched([]int{0, 0, 0, 9}, 0.1, true), []int{3}, 9, 0},
		"a single frame, in doubt":     {watched([]int{0, 0, 0, 9}, 0.7, true), nil, 0, -1},
		"a single frame, of one side":  {watched([]int{0, 0, 0, 9}, 0.1, false), nil, 0, -1},
		"two frames, little known":     {watched([]int{0, 0, 0, 9, 9}, 0.7, true), []int{3, 4}, 9, 0},
		"no more than its uncertainty": {watched([]int{0, 0, 0, 9, 9}, 2, true), nil, 0, -1},
		"to and fro, not beyond doubt": {watched([]int{0, 0, 9, 9, 0, 0, 9}, 0.7, true), nil, 0, -1},
	} {
		moved, main := Find(c.run)
		if main != c.main || (c.frames == nil) != (len(moved) == 0) {
			t.Errorf("%s: %+v, most are like frame %d", name, moved, main)
			continue
		}
		if c.frames == nil {
			continue
		}
		if m := moved[0]; len(moved) != 1 || !reflect.DeepEqual(m.Frames, c.frames) || m.Shift.Move.X != c.move {
			t.Errorf("%s: %+v", name, moved)
		}
	}
}
