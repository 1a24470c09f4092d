package calib

import (
	"fmt"
	"sort"
	"strings"

	"leadmark/calib/input"
	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/calib/words"
	"leadmark/fit"
	"leadmark/vision/ruler"
)

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

// estimate is Estimate without what only the last result needs: the Monte Carlo propagation and the
// plan.
func estimate(run runfile.Run, frames []read.Shot, c Counting) (Result, []fit.Shot, error) {
	r := Result{Rig: run.Rig, Run: run, CountLine: c.Line, counting: c, Frames: unfitted(frames)}
	r.RunSHA256 = runDigest(run, r.Frames)
	leaveOutUnstated(run, r.Frames)
	shots, at, fitted, err := fitShots(run, r.Frames, c)
	if len(shots) == 0 {
		return r, nil, noneRead(r.Frames)
	}
	if err != nil {
		return r, nil, &input.NoResult{What: "the frames that were read give no result", Err: err,
			Hint: tally(r.Frames)}
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

// propagate draws the budget anew by Monte Carlo: 10,000 draws, fewer for a run of more than 48
// shots and none above 480, where the shots' errors have long averaged out and only time is lost.
func propagate(run fit.Run, fitted fit.Result) (fit.Propagation, error) {
	draws := min(10000, 480000/len(run.Shots))
	if draws < 1000 || fitted.Lag == nil {
		return fit.Propagation{}, nil
	}
	return fit.Propagate(run, fitted, draws)
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
		return &input.NoResult{What: "there is no frame in the run",
			Hint: "copy the frames (JPEG, PNG or TIFF) into the folder"}
	}
	return &input.NoResult{What: fmt.Sprintf("none of %d frames could be used", len(frames)), Hint: tally(frames)}
}

// tally says how many frames were read and why the others were not.
func tally(frames []FrameResult) string {
	read := 0
	why := map[string][]string{}
	for _, f := range frames {
		if f.Status == ruler.StatusRead {
			read++
		} else {
			reason := words.Reason(f.Reason)
			why[reason] = append(why[reason], f.Name)
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
