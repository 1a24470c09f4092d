package calib

import (
	"fmt"
	"sort"
	"strings"
	"time"

	"leadmark/calib/input"
	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/fit"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// Counting says what the advances of a run are counted from.
type Counting struct {
	Line  *ruler.Line // in the picture; nil for readings made by hand
	TripU *float64    // m, standard uncertainty of the trip place along the track; nil where the place is unknown
}

// Estimate fits the lag to the frames that were read and puts what the fit says of each shot
// back beside its frame. Shots with the Status read must carry Advance, U and Conditions; those
// whose conditions do not suffice become left_out. The frames given are not changed. It returns a
// *input.NoResult when no frame was read or nothing can be told from them.
func Estimate(run runfile.Run, frames []read.Shot, c Counting) (Result, error) {
	r, shots, err := estimate(run, frames, c)
	if err != nil {
		return r, err
	}
	if r.Propagation, err = propagate(fitRun(run, shots, c), r.Fit); err != nil {
		return r, &input.NoResult{What: "the uncertainties cannot be propagated", Err: err}
	}
	if r.Plan, err = planFor(run, shots, c); err != nil {
		return r, &input.NoResult{What: "the shots to reach the goal cannot be planned", Err: err}
	}
	return r, nil
}

// estimate is Estimate without what only the last result needs: the Monte Carlo propagation and the plan.
func estimate(run runfile.Run, frames []read.Shot, c Counting) (Result, []fit.Shot, error) {
	r := Result{Rig: run.Rig, Run: run, CountLine: c.Line, counting: c, Frames: unfitted(frames)}
	r.RunSHA256 = runDigest(run, r.Frames)
	leaveOutUnstated(run, r.Frames)
	shots, at, fitted, err := fitShots(run, r.Frames, c)
	if len(shots) == 0 {
		return r, nil, noneRead(r.Frames)
	}
	if err != nil {
		return r, nil, &input.NoResult{What: "the frames that were read give no result", Err: err, Hint: tally(r.Frames)}
	}
	r.Fit = fitted
	for i, k := range at {
		if i < len(fitted.Shots) {
			r.Frames[k].Fit = fitted.Shots[i]
		}
	}
	r.Warnings = runWarnings(r)
	return r, shots, nil
}

// propagate draws the budget anew by Monte Carlo: 10,000 draws, fewer for a run of more than 48 shots and none above 480, where the
// shots' errors have long averaged out and only time is lost.
func propagate(run fit.Run, fitted fit.Result) (fit.Propagation, error) {
	draws := min(10000, 480000/len(run.Shots))
	if draws < 1000 || fitted.Lag == nil {
		return fit.Propagation{}, nil
	}
	return fit.Propagate(run, fitted, draws)
}

// fitRun is a run as the fit takes it.
func fitRun(run runfile.Run, shots []fit.Shot, c Counting) fit.Run {
	return fit.Run{
		Shots: shots, Gravity: run.Defaults.Gravity, GravityU: run.Defaults.GravityU,
		DropCommonU: run.Defaults.DropCommonU, TripU: c.TripU, SpeedRepeat: run.Defaults.SpeedRepeat,
		MaxDrop: run.Limits.MaxDrop, MaxDelay: run.Limits.MaxDelay,
	}
}

// CodeNoConditions is why a frame is left out that states no height where the other shots do.
const CodeNoConditions = "no-conditions"

// leaveOutUnstated leaves out the drops of unknown height of a run that states other heights:
// their speed is unknown. Where no height is stated at all, the advance itself can still be told.
func leaveOutUnstated(run runfile.Run, frames []FrameResult) {
	stated := false
	for _, f := range frames {
		stated = stated || f.Status == ruler.StatusRead && f.Conditions.Known()
	}
	if run.Method != runfile.Drop || !stated {
		return
	}
	for i := range frames {
		if f := &frames[i]; f.Status == ruler.StatusRead && !f.Conditions.Known() && f.Reading.Twin == nil {
			f.LeaveOut(CodeNoConditions, "neither shots.csv nor run.toml states drop_mm for it")
		}
	}
}

// shotsOf returns the frames that were read as shots, and where each stands among the frames.
func shotsOf(frames []FrameResult, falls bool) (shots []fit.Shot, at []int) {
	start := firstTaken(frames)
	for i, f := range frames {
		if f.Status != ruler.StatusRead {
			continue
		}
		c := f.Conditions
		shot := fit.Shot{
			Advance: f.Advance, AdvanceU: f.U, Delay: c.Delay,
			Drop: c.Drop, DropU: c.DropU, DropShotU: c.DropShotU,
			Speed: c.Speed, SpeedU: c.SpeedU, Group: c.Group,
			Time: f.Taken.Sub(start).Seconds(), HasTime: !f.Taken.IsZero(), Setting: settingOf(f.Frame),
		}
		f.measuredSpeed(&shot, falls)
		shots = append(shots, shot)
		at = append(at, i)
	}
	return shots, at
}

// firstTaken is the earliest time of any frame of the run, left out ones too: a still that was taken
// first is when the run began. It is zero where no file gives a time.
func firstTaken(frames []FrameResult) time.Time {
	var first time.Time
	for _, f := range frames {
		if t := f.Taken; !t.IsZero() && (first.IsZero() || t.Before(first)) {
			first = t
		}
	}
	return first
}

// settingOf labels how a frame was exposed, by what could bear on the lag: exposure time, aperture
// and focal length. ISO is set by the amplifier and does not.
func settingOf(f frame.Frame) string {
	if f.Exposure == 0 && f.FNumber == 0 && f.Focal == 0 {
		return ""
	}
	return fmt.Sprintf("%.4g s, f/%.3g, %.4g mm", f.Exposure, f.FNumber, f.Focal*1e3)
}

func runDigest(run runfile.Run, frames []FrameResult) string {
	parts := []string{run.Digest}
	for _, f := range frames {
		parts = append(parts, f.Name+" "+f.Digest)
	}
	sort.Strings(parts[1:])
	return input.Digest([]byte(strings.Join(parts, "\n")))
}

func noneRead(frames []FrameResult) error {
	if len(frames) == 0 {
		return &input.NoResult{What: "there is no frame in the run", Hint: "copy the frames (JPEG, PNG or TIFF) into the folder"}
	}
	return &input.NoResult{What: fmt.Sprintf("none of %d frames could be used", len(frames)), Hint: tally(frames)}
}

// tally says how many frames were read and why the others were not.
func tally(frames []FrameResult) string {
	read := 0
	why := map[ruler.Reason][]string{}
	for _, f := range frames {
		if f.Status == ruler.StatusRead {
			read++
		} else {
			why[f.Reason] = append(why[f.Reason], f.Name)
		}
	}
	lines := make([]string, 0, len(why))
	for reason, names := range why {
		lines = append(lines, fmt.Sprintf("%s: %s", someNames(names), reason))
	}
	sort.Strings(lines)
	return strings.Join(append([]string{fmt.Sprintf("%d of %d frames were read", read, len(frames))}, lines...), "\n")
}

// someNames lists a few names and counts the rest.
func someNames(names []string) string {
	if len(names) <= 4 {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:3], ", "), len(names)-3)
}
