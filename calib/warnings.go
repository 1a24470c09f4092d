package calib

import (
	"slices"
	"strings"

	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// runWarnings gathers the doubts about a run: what the fit notes, shots that do not follow
// the others, frames that differ, and files of the folder that nobody listed.
func runWarnings(r Result) []Warning {
	all := fitWarnings(r)
	var used []frame.Frame
	var unlisted []string
	for _, f := range r.Frames {
		if f.Status == ruler.StatusRead {
			used = append(used, f.Frame)
		}
		if f.Reason.Code == read.CodeNotListed {
			unlisted = append(unlisted, f.Name)
		}
	}
	all = append(all, framesVary(used)...)
	all = append(all, doubtWarnings(used)...)
	if len(unlisted) > 0 {
		all = append(all, Warning{Note: note.Of(read.CodeNotListed, "run"), Frames: unlisted})
	}
	return append(all, conditionWarnings(r)...)
}

// doubtWarnings names the frames of whose settings something could not be believed.
func doubtWarnings(frames []frame.Frame) []Warning {
	var all []Warning
	for _, f := range frames {
		if f.Doubt.None() {
			continue
		}
		told := note.New(codeExif, f.Doubt)
		i := slices.IndexFunc(all, func(w Warning) bool { return w.Same(told) })
		if i < 0 {
			i = len(all)
			all = append(all, Warning{Note: told})
		}
		all[i].Frames = append(all[i].Frames, f.Name)
	}
	return all
}

// fitWarnings turns the notes of the fit into warnings; the one on odd shots names the frames.
func fitWarnings(r Result) []Warning {
	var odd []string
	for _, f := range r.Frames {
		if f.Status == ruler.StatusRead && f.Fit.Outlier {
			odd = append(odd, f.Name)
		}
	}
	var all []Warning
	for _, n := range r.Fit.Notes {
		w := Warning{Note: n}
		if n.Code == codeOdd && len(odd) > 0 {
			w.Note = note.Of(codeOdd, "frames", n, len(odd))
			w.Frames, odd = odd, nil
		}
		all = append(all, w)
	}
	if len(odd) > 0 {
		all = append(all, Warning{Note: note.Of(codeOdd, "alone"), Frames: odd})
	}
	return all
}

// codeExif is of doubts about what a file says of the camera.
const codeExif = "exif-doubt"

// codeOdd is the fit's note on shots that do not follow the others.
const codeOdd = "odd-shots"

// CodeNegativeLag marks a result that cannot be: it is shown, but not to be accepted.
const CodeNegativeLag = "negative-lag"

func conditionWarnings(r Result) []Warning {
	var all []Warning
	if t := r.Run.Trip; t != nil && t.U == 0 {
		all = append(all, Warning{Note: note.New("trip-u-missing")})
	}
	if l := r.Fit.Lag; l != nil && l.Interval95.High < 0 {
		all = append(all, Warning{Note: note.New(CodeNegativeLag)})
	}
	all = append(all, twinWarnings(r)...)
	if names := ungrouped(r); len(names) > 0 {
		all = append(all, Warning{Note: note.New("group-missing"), Frames: names})
	}
	return all
}

// ungrouped lists pushes of unknown speed and no group in a run whose delays vary.
func ungrouped(r Result) []string {
	var names []string
	delays := map[float64]bool{}
	for _, f := range r.Frames {
		if c := f.Conditions; f.Status == ruler.StatusRead && r.Run.Method == runfile.Push && !c.Known() &&
			c.Group == "" && f.Speed == 0 {
			names = append(names, f.Name)
			delays[c.Delay] = true
		}
	}
	if len(delays) < 2 {
		return nil
	}
	return names
}

// framesVary warns where the frames differ in exposure time, f-number, ISO, focal length, size or
// body: a lag belongs to one set-up. The frames named are those that differ from the most.
func framesVary(frames []frame.Frame) []Warning {
	var all []Warning
	for _, d := range frame.Differences(frames) {
		var w Warning
		var values []string
		var counts []any
		for i, g := range d.Groups {
			values, counts = append(values, g.Value), append(counts, len(g.Names))
			if i > 0 {
				w.Frames = append(w.Frames, g.Names...)
			}
		}
		code := strings.ReplaceAll(strings.ToLower(d.Property), " ", "-") + "-varies"
		w.Note = note.New(code, append([]any{d.Property, values}, counts...)...)
		all = append(all, w)
	}
	return all
}
