package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"leadmark/calib/plan"
	"leadmark/calib/shoot"
	"leadmark/scripts/drawn"
	"leadmark/vision/animal"
	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
	"leadmark/vision/subject"
	"leadmark/vision/synth/animals"
)

// Pictures are so wide, and the trip point lies so far from their left edge.
const (
	pictureWidth = 900 // px
	tripAt       = 70
)

// draw is a shoot with pictures, drawn as JPEG files and checked on the way that leadmark check takes.
func (l *loop) draw() (r shoot.Result, err error) {
	if l.first, err = firstPlan(); err != nil {
		return r, err
	}
	dir, err := os.MkdirTemp("", "loopstudy")
	if err != nil {
		return r, err
	}
	defer os.RemoveAll(dir)
	scale := (pictureWidth - tripAt) / l.field.End
	set := animals.Set(l.seed, pictureWidth, pictureWidth*2/3)
	set.Ground, set.Perch = animals.Green, false
	drawing := animals.Shoot{Set: set, Kind: animals.Bee, Scale: scale,
		Trip: [2]float64{tripAt, pictureWidth / 3}, Length: l.truth.Length,
		Speed: l.truth.Speed, SpeedSD: l.truth.SpeedSD, Elevation: l.truth.Elevation,
		ElevationSD: l.truth.ElevationSD, Lag: l.lag, Spread: l.spread, Exit: l.truth.Exit[0], Blur: 0.7,
		Seed: l.seed}
	l.truth.AzimuthSD, l.frames = 0, min(l.frames, 24) // drawn in the picture's plane
	empty, _, err := drawn.Animals(filepath.Join(dir, "EMPTY.JPG"), drawing.Empty())
	if err != nil {
		return r, err
	}
	var frames []frame.Frame
	noses := map[string][2]float64{}
	for i := range l.frames {
		scene, along, up := drawing.Frame(i)
		f, _, err := drawn.Animals(filepath.Join(dir, fmt.Sprintf("IMG_%02d.JPG", i)), scene)
		if err != nil {
			return r, err
		}
		frames, noses[f.Name] = append(frames, f), [2]float64{along, up}
		if l.side(along, up) == within {
			l.shown++
		}
	}
	if r, err = check(dir, l.first, scale, frames, empty); err != nil {
		return r, err
	}
	for _, f := range r.Frames {
		if f.Status == shoot.Found && !f.AtLeast && f.Height != nil {
			l.offAlong, l.offUp = append(l.offAlong, f.Lead-noses[f.Name][0]),
				append(l.offUp, *f.Height-noses[f.Name][1])
		}
	}
	return r, nil
}

func check(dir string, p plan.Plan, scale float64, frames []frame.Frame, empty frame.Frame) (shoot.Result, error) {
	ctx := context.Background()
	scene, err := subject.Learn(ctx, native.Library{}, nil, &empty)
	if err != nil {
		return shoot.Result{}, err
	}
	look := func(ctx context.Context, f frame.Frame, length float64, travel [2]float64) (animal.Sighting, error) {
		return scene.Look(ctx, f, subject.Hint{Length: length, Travel: animal.Point{X: travel[0], Y: travel[1]}})
	}
	setup := shoot.Setup{Dir: dir, Travel: [2]float64{1, 0}, TripLine: [2][2]float64{{tripAt, 0}, {tripAt, 500}},
		Scale: scale, Exit: &[2]float64{tripAt, pictureWidth / 3}}
	return shoot.Check(ctx, setup, frames, nil, shoot.Options{Look: look, Plan: p})
}
