package read

import (
	"math"
	"slices"
	"sync"

	"leadmark/calib/read/cache"
	"leadmark/calib/read/still"
	"leadmark/calib/runfile"
	"leadmark/fit/note"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
)

// Codes of reasons and warnings that slates give.
const (
	CodeSlate         = "slate"           // the frame shows a slate and no ruler
	CodeSlateUnread   = "slate-unread"    // a slate that could not be read, or is wrong, lies before the shot
	CodeSlateDisagree = "slate-disagrees" // shots.csv states another value
)

// shown is a slate as a frame shows it.
type shown struct {
	runfile.Slate
	frame string    // which frame
	wrong note.Note // why it is not to be relied on
}

// followSlates leaves out the frames that show a slate and no ruler, and gives the frames behind
// each, up to the next, the conditions it states; a slate that stands in a frame with the ruler
// holds for that frame alone. What shots.csv states wins; doubts say where it states other things.
func followSlates(r runfile.Run, track Track, shots []Shot, list []int,
	seen *cache.Sightings) (out []Shot, doubts []Warning) {
	listed := r.Listed()
	out = slices.Clone(shots)
	var last *shown
	used := false
	lying := sync.OnceValue(func() []ruler.Row {
		return append(lookForStill(shots, list, track.Hint, seen.Of).Rows, track.Lying...)
	})
	rulerIn := func(i int) bool { // a ruler lying in the scene is not the one that falls
		return reading.Interpret(still.Without(seen.Of(i), lying()), track.spec(specOf(r))).Status == ruler.StatusRead
	}
	for i := range out {
		f := &out[i]
		now := last
		if f.Reason.Code == CodeStill {
			continue
		}
		if sl := slateOf(seen.Brief(i).Symbol, f.Name, r.Method, used && !rulerIn(i)); sl != nil {
			now, used = sl, true
			if !rulerIn(i) {
				last = sl
				f.LeaveOut(sl.says())
				continue
			}
		}
		if now != nil && (f.Status == "" || f.Reason.Code == CodeNotListed) {
			for _, what := range govern(f, *now, listed[f.Name]) {
				doubts = disagrees(doubts, f.Name, now.frame, what)
			}
		}
	}
	return out, doubts
}

// slateOf is the slate that a frame shows; nil for none. A symbol that cannot be read is taken for
// a slate where that is likely.
func slateOf(sym ruler.Symbol, name string, m runfile.Method, likely bool) *shown {
	if sym.Seen && sym.Text == "" && likely {
		return &shown{frame: name, wrong: note.Of(CodeSlate, "unread")}
	}
	slate, is, err := runfile.ParseSlate(sym.Text)
	if !is {
		return nil
	}
	out := &shown{Slate: slate, frame: name}
	if err == nil {
		err = slate.Suits(m)
	}
	if err != nil {
		out.wrong = note.Of(CodeSlate, "wrong", err)
	}
	return out
}

func (sl shown) says() note.Note {
	if !sl.wrong.None() {
		return note.Of(CodeSlate, "doubt", sl.wrong)
	}
	return note.New(CodeSlate, sl.Parts())
}

// govern gives one frame the conditions of a slate, but those that its line of shots.csv states,
// and names those in which they disagree.
func govern(f *Shot, sl shown, line runfile.ShotEntry) (disagree []string) {
	if !sl.wrong.None() {
		if st := line.Stated; !st.Drop && !st.Speed && !st.Group {
			f.LeaveOut(note.New(CodeSlateUnread, sl.frame, sl.wrong))
		}
		return nil
	}
	c, st := &f.Conditions, line.Stated
	set := func(to *float64, value *float64, stated bool, what string) {
		switch {
		case value == nil:
		case !stated:
			*to = *value
		case math.Abs(*to-*value) > slateOff*math.Abs(*value):
			disagree = append(disagree, what)
		}
	}
	set(&c.Drop, sl.Drop, st.Drop, "drop_mm")
	set(&c.Speed, sl.Speed, st.Speed, "speed_mps")
	set(&c.Delay, sl.Delay, st.Delay, "delay_ms")
	switch {
	case sl.Group == nil:
	case !st.Group:
		c.Group = *sl.Group
	case c.Group != *sl.Group:
		disagree = append(disagree, "group")
	}
	// A group is of one unknown speed: the slate's word puts aside a default for the other.
	if sl.Group != nil && !st.Speed {
		c.Speed = 0
	}
	if sl.Speed != nil && !st.Group {
		c.Group = ""
	}
	if f.Reason.Code == CodeNotListed && (f.Conditions.Known() || c.Group != "") {
		f.Status, f.Reason = "", note.Note{}
	}
	return disagree
}

// disagrees notes that shots.csv and a slate say different things of a frame.
func disagrees(doubts []Warning, frame, slate, what string) []Warning {
	told := note.New(CodeSlateDisagree, what, slate)
	for k := range doubts {
		if w := &doubts[k]; w.Same(told) {
			w.Frames = append(w.Frames, frame)
			return doubts
		}
	}
	return append(doubts, Warning{told, []string{frame}})
}
