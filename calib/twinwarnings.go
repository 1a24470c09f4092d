package calib

import (
	"math"
	"sort"

	"leadmark/fit/note"
	"leadmark/vision/ruler"
)

// twinDoubt is from how many standard uncertainties on a twin flash and a stated speed disagree.
const twinDoubt = 3

// twinWarnings says where the speeds that a twin flash measured disagree with what was stated.
func twinWarnings(r Result) []Warning {
	all := twinMissing(r)
	type setting struct{ drop, speed float64 }
	by := map[setting][]FrameResult{}
	var order []setting
	for _, f := range r.Frames {
		if f.Status != ruler.StatusRead || f.Speed == 0 || !f.Conditions.Known() || f.Fit.Outlier {
			continue
		}
		s := setting{f.Conditions.Drop, f.Conditions.Speed}
		if by[s] == nil {
			order = append(order, s)
		}
		by[s] = append(by[s], f)
	}
	sort.Slice(order, func(i, j int) bool { return order[i].drop+order[i].speed < order[j].drop+order[j].speed })
	for _, s := range order {
		if w, doubt := twinAgainst(by[s], s.drop > 0); doubt {
			all = append(all, w)
		}
	}
	return all
}

// twinMissing names the frames in which only one of two flashes is seen.
func twinMissing(r Result) []Warning {
	w := Warning{Note: note.Of("twin-not-seen", "run")}
	for _, f := range r.Frames {
		if f.Reason.Code == w.Code {
			w.Frames = append(w.Frames, f.Name)
		}
	}
	if len(w.Frames) == 0 {
		return nil
	}
	return []Warning{w}
}

// twinAgainst compares the speeds of shots of one stated height or speed with it.
func twinAgainst(frames []FrameResult, fall bool) (Warning, bool) {
	n, mean, square := float64(len(frames)), 0.0, 0.0
	var w Warning
	for _, f := range frames {
		mean += f.Speed / n
		square += f.SpeedU * f.SpeedU / (n * n)
		w.Frames = append(w.Frames, f.Name)
	}
	c := frames[0].Conditions
	if !fall {
		u := math.Sqrt(square + c.SpeedU*c.SpeedU/n)
		w.Note = note.Of("twin-disagrees", "speed", mean, u, c.Speed)
		return w, math.Abs(mean-c.Speed) > twinDoubt*u
	}
	v, g := math.Sqrt(2*c.Gravity*c.Drop), c.Gravity
	uFall := math.Sqrt(c.DropU*c.DropU + c.DropCommonU*c.DropCommonU + c.DropShotU*c.DropShotU/n)
	u := math.Hypot(math.Sqrt(square), g/v*uFall)
	w.Note = note.Of("twin-disagrees", "drop", mean, math.Sqrt(square), mean*mean/(2*g), c.Drop)
	return w, math.Abs(mean-v) > twinDoubt*u
}
