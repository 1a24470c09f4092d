package calib

import (
	"fmt"
	"strings"

	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/calib/words"
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
		all = append(all, Warning{Code: "not-listed",
			Text:   "shots.csv does not list every frame of the folder; add a line for each that is a shot",
			Frames: unlisted})
	}
	return append(all, conditionWarnings(r)...)
}

// doubtWarnings names the frames of whose settings something could not be believed.
func doubtWarnings(frames []frame.Frame) []Warning {
	var all []Warning
	at := map[string]int{}
	for _, f := range frames {
		if f.Doubt == "" {
			continue
		}
		i, seen := at[f.Doubt]
		if !seen {
			i = len(all)
			at[f.Doubt] = i
			all = append(all, Warning{Code: "exif-doubt",
				Text: "what the file says of the camera's settings is not to be relied on: " + f.Doubt})
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
		var frames []string
		if n.Code == codeOdd && len(odd) > 0 {
			n.Case += "-frames"
			frames, odd = odd, nil
		}
		all = append(all, Warning{Code: n.Code, Text: words.Sentence(n), Frames: frames})
	}
	if len(odd) > 0 {
		all = append(all, Warning{Code: codeOdd, Text: "these shots do not follow the others; look at the " +
			"frames, and set use = no with the reason where one is known to be bad", Frames: odd})
	}
	return all
}

// codeOdd is the fit's note on shots that do not follow the others.
const codeOdd = "odd-shots"

// CodeNegativeLag marks a result that cannot be: it is shown, but not to be accepted.
const CodeNegativeLag = "negative-lag"

func conditionWarnings(r Result) []Warning {
	var all []Warning
	if t := r.Run.Trip; t != nil && t.U == 0 {
		all = append(all, Warning{Code: "trip-u-missing",
			Text: "the trip place is taken as exact; state u_mm in [trip], its standard uncertainty along the track"})
	}
	if l := r.Fit.Lag; l != nil && l.Interval95.High < 0 {
		all = append(all, Warning{Code: CodeNegativeLag,
			Text: "a lag below zero cannot be: the flash would fire before the beam is broken; check travel, " +
				"front_mm, the heights or speeds, and which way the advances are counted"})
	}
	all = append(all, twinWarnings(r)...)
	if names := ungrouped(r); len(names) > 0 {
		all = append(all, Warning{Code: "group-missing",
			Text: "these pushes have neither speed_mps nor a group; put the same word in the column group " +
				"for pushes at one repeatable speed", Frames: names})
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
		w := Warning{Code: strings.ReplaceAll(strings.ToLower(d.Property), " ", "-") + "-varies"}
		var values []string
		for i, g := range d.Groups {
			values = append(values, fmt.Sprintf("%s (%d)", g.Value, len(g.Names)))
			if i > 0 {
				w.Frames = append(w.Frames, g.Names...)
			}
		}
		w.Text = fmt.Sprintf("frames vary in %s: %s; the lag belongs to one set-up, so calibrate each by itself",
			d.Property, strings.Join(values, ", "))
		all = append(all, w)
	}
	return all
}
