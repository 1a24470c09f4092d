package rig

import (
	"context"
	"time"

	"leadmark/calib"
	"leadmark/calib/input"
)

// Acceptable says why a result cannot join a rig's history: a *input.NoResult, nil where it can.
func Acceptable(r calib.Result) error {
	const nothing = "nothing was added to the profile of "
	switch l := r.Fit.Lag; {
	case l == nil:
		return &input.NoResult{What: nothing + r.Rig + ": this run could not tell the lag",
			Hint: "the report says what to shoot"}
	case l.Interval95.High < 0:
		return &input.NoResult{What: nothing + r.Rig + ": a lag below zero cannot be",
			Hint: "check travel, front_mm, and the heights or speeds"}
	}
	return nil
}

// Accept adds a result to the profile p as its newest calibration, whole or not at all, and returns
// when it is on the disk.
func (s Store) Accept(ctx context.Context, p Profile, r calib.Result, at time.Time, note string) (Appended, error) {
	if err := Acceptable(r); err != nil {
		return Appended{}, err
	}
	return s.Append(ctx, p.Name, NewEntry(r, p, at, note))
}

// Age is how many days ago a calibration was accepted, and whether that is more than the rig's limit.
func (p Profile) Age(e Entry, now time.Time) (days float64, due bool) {
	days = now.Sub(e.Accepted).Hours() / 24
	return days, p.Limits.RecalibrateDays > 0 && days > p.Limits.RecalibrateDays
}
