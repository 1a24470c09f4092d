package calib

import (
	"math"

	"leadmark/calib/runfile"
	"leadmark/fit"
	"leadmark/vision/ruler"
)

// measureSpeed gives a frame the speed at the trip point that its two flashes tell. The mean speed
// between them is that at the middle of the interval; a fall is carried back from the first flash
// to the trip point, which lies trip past the line counted from, by v^2 = v1^2 - 2 g s (uniform
// acceleration; any textbook of mechanics).
func (f *FrameResult) measureSpeed(run runfile.Run, trip, tripU float64) {
	f.Speed, f.SpeedU = 0, 0
	t := f.Reading.Twin
	if f.Status != ruler.StatusRead || t == nil || run.Ruler.TwinFlash <= 0 {
		return
	}
	mean, u := t.Moved/run.Ruler.TwinFlash, t.U/run.Ruler.TwinFlash
	if run.Method != runfile.Drop {
		f.Speed, f.SpeedU = mean, u
		return
	}
	g := f.Conditions.Gravity
	first := mean - g*run.Ruler.TwinFlash/2
	square := first*first - 2*g*(f.Advance-trip)
	if square <= 0 {
		return // slower than any fall over that way: no speed is better than an invented one
	}
	f.Speed = math.Sqrt(square)
	f.SpeedU = math.Hypot(first*u, g*math.Hypot(f.U, tripU)) / f.Speed
}

// measuredSpeed puts a frame's measured speed into its shot, unless the run states one.
func (f *FrameResult) measuredSpeed(s *fit.Shot, falls bool) {
	if f.Speed == 0 || f.Conditions.Known() {
		return
	}
	s.Each = true
	if g := f.Conditions.Gravity; falls {
		s.Drop, s.DropU, s.DropShotU = f.Speed*f.Speed/(2*g), 0, f.Speed*f.SpeedU/g
		return
	}
	s.Speed, s.SpeedU = f.Speed, f.SpeedU
}

// twinPasses bounds how often falls are carried back to the trip place that the fit then finds.
const twinPasses = 20

// fitShots fits the lag to the frames that were read. Where a twin flash gives a fall's speed, that
// at the trip point depends on where that lies: both are found in turns.
func fitShots(run runfile.Run, frames []FrameResult,
	c Counting) (shots []fit.Shot, at []int, out fit.Result, err error) {
	trip, tripU := 0.0, 0.0
	known := c.TripU != nil
	if known {
		tripU = *c.TripU
	}
	for range twinPasses {
		for i := range frames {
			frames[i].measureSpeed(run, trip, tripU)
		}
		shots, at = shotsOf(frames, run.Method == runfile.Drop)
		if len(shots) == 0 {
			return nil, nil, out, nil
		}
		out, err = fit.Lag(fitRun(run, shots, c))
		if err != nil || run.Method != runfile.Drop || run.Ruler.TwinFlash <= 0 {
			return shots, at, out, err
		}
		if out.TripOffset == nil {
			break
		}
		moved := math.Abs(out.TripOffset.Value - trip)
		known, trip, tripU = true, out.TripOffset.Value, out.TripOffset.U
		if moved < 1e-6 {
			break
		}
	}
	for i := range frames {
		frames[i].measureSpeed(run, trip, tripU)
		if !known { // where the beam trips is not known, nor then the speed there
			frames[i].Speed, frames[i].SpeedU = 0, 0
		}
	}
	return shots, at, out, err
}
