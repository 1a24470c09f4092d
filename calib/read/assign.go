package read

import (
	"leadmark/calib/runfile"
	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// Codes of the reasons for which a frame is left out before anyone looks at it.
const (
	CodeSetAside  = "set-aside"  // shots.csv says use = no
	CodeStill     = "still"      // the frame shows the trip place, not a shot
	CodeNotListed = "not-listed" // not in shots.csv, and run.toml's conditions do not suffice
	CodeLeftOut   = "left-out"   // a person left it out in corrections.toml
	CodeNoReading = "no-reading" // listed, but the readings made by hand lack it
)

// Assign gives every file of the folder its conditions and puts those aside that are no shots:
// their Status is left_out or refused, each with its reason. A Status that is still empty marks a
// frame to be read. Frames come first, in the folder's order, then the files that were refused.
func Assign(r runfile.Run, folder Folder) []Shot {
	listed := r.Listed()
	all := make([]Shot, 0, len(folder.Frames)+len(folder.Refused))
	for _, f := range folder.Frames {
		all = append(all, assign(r, f, listed))
	}
	for _, f := range folder.Refused {
		if f.Name == runfile.RunFileName || f.Name == runfile.ShotsFileName {
			continue
		}
		e := assign(r, frame.Frame{Name: f.Name, Path: f.Path}, listed)
		if e.Reason.Code != CodeLeftOut {
			e.Status, e.Reason = ruler.StatusRefused, f.Note
		}
		all = append(all, e)
	}
	return all
}

func assign(r runfile.Run, f frame.Frame, listed map[string]runfile.ShotEntry) Shot {
	put := r.Corrections.Of(f.Name)
	e := Shot{Frame: f, Conditions: r.Defaults, Corrected: put.Kinds()}
	shot, is := listed[f.Name]
	if is {
		e.Conditions = shot.Conditions
	}
	switch {
	case r.Trip != nil && r.Trip.Still == f.Name:
		e.LeaveOut(note.New(CodeStill))
	case put.LeftOut != "":
		e.LeaveOut(leftOut(put))
	case is && !shot.Use:
		e.LeaveOut(setAside(shot.Why))
	case !is && r.HasShots && !r.Defaults.Known():
		e.LeaveOut(note.New(CodeNotListed, wanted(r)))
	}
	return e
}

func leftOut(c runfile.Correction) note.Note { return note.New(CodeLeftOut, c.LeftOut) }

func setAside(why string) note.Note {
	if why == "" {
		return note.Of(CodeSetAside, "no-reason")
	}
	return note.New(CodeSetAside, why)
}

// wanted names the condition that makes a shot's speed known.
func wanted(r runfile.Run) string {
	if r.Method == runfile.Push {
		return "speed_mps"
	}
	return "drop_mm"
}
