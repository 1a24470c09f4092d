package calib

import (
	"fmt"
	"time"

	"leadmark/calib/runfile"
	"leadmark/fit"
	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// fitRun is a run as the fit takes it.
func fitRun(run runfile.Run, shots []fit.Shot, c Counting) fit.Run {
	return fit.Run{
		Shots: shots, Gravity: run.Defaults.Gravity, GravityU: run.Defaults.GravityU,
		DropCommonU: run.Defaults.DropCommonU, TripU: c.TripU, SpeedRepeat: run.Defaults.SpeedRepeat,
		MaxDrop: run.Limits.MaxDrop, MaxDelay: run.Limits.MaxDelay,
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

// firstTaken is the earliest time of any frame of the run, left out ones too: a still that was
// taken first is when the run began. It is zero where no file gives a time.
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
			f.LeaveOut(note.New(CodeNoConditions))
		}
	}
}

// CodeNoConditions is why a frame is left out that states no height where the other shots do.
const CodeNoConditions = "no-conditions"
