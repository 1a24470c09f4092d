package check

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/shoot"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/terminal"
	"leadmark/vision/animal"
	"leadmark/vision/frame"
	"leadmark/vision/subject"
)

// checkFrames looks at the frames.
func checkFrames(ctx context.Context, env *command.Env, s shoot.Setup, p plan.Plan,
	o options) (shoot.Result, *subject.Finder, error) {
	folder, err := command.ListFrames(ctx, s.Dir)
	if err != nil {
		return shoot.Result{}, nil, err
	}
	frames, empty, err := withoutEmpty(folder.Frames, s)
	if err != nil {
		return shoot.Result{}, nil, err
	}
	scene, err := subject.Learn(ctx, env.Pixels, frames, empty)
	if err != nil {
		return shoot.Result{}, nil, &input.NoResult{What: words.Err(err).Error()}
	}
	look := func(ctx context.Context, f frame.Frame, length float64, travel [2]float64) (animal.Sighting, error) {
		return scene.Look(ctx, f, animalHint(length, travel))
	}
	bar := terminal.NewProgress(env.Stderr, "looking at the frames")
	defer bar.End()
	r, err := shoot.Check(ctx, s, frames, folder.Refused,
		shoot.Options{Look: look, Plan: p, Settings: o.Stated, Calibrated: calibrated(env, o), Progress: bar.Step})
	return r, scene, err
}

// animalHint is what is known of an animal before looking; length in pixels.
func animalHint(length float64, travel [2]float64) subject.Hint {
	return subject.Hint{Length: length, Travel: animal.Point{X: travel[0], Y: travel[1]}}
}

// withoutEmpty takes the frame of the empty set from the others.
func withoutEmpty(frames []frame.Frame, s shoot.Setup) ([]frame.Frame, *frame.Frame, error) {
	if s.Empty == "" {
		return frames, nil, nil
	}
	i := slices.IndexFunc(frames, func(f frame.Frame) bool { return f.Name == s.Empty })
	if i < 0 {
		return nil, nil, &input.Error{File: filepath.Join(s.Dir, shoot.FileName),
			What: fmt.Sprintf("empty names %s, which is not among the frames that can be read", s.Empty),
			Hint: "give the name of a frame of the empty set in this folder, or take the key out"}
	}
	empty := frames[i]
	return slices.Delete(slices.Clone(frames), i, i+1), &empty, nil
}
