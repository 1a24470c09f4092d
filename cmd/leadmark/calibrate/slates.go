package calibrate

import (
	"context"
	"errors"

	"leadmark/calib/input"
	"leadmark/calib/runfile"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/terminal"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
)

// findSlates looks for slates in the frames, and for the ruler in those that show one.
func findSlates(ctx context.Context, env *command.Env, frames []frame.Frame) (map[string]runfile.SlateSeen, error) {
	bar := terminal.NewProgress(env.Stderr, "looking for slates")
	defer bar.End()
	found := map[string]runfile.SlateSeen{}
	for i, f := range frames {
		seen, slate, err := findSlate(ctx, env, f)
		var gone *frame.Refusal
		switch {
		case errors.As(err, &gone):
			return nil, &input.Error{File: f.Path, What: "cannot be looked at: " + words.Sentence(gone.Note),
				Hint: "nothing was written; run it again"}
		case err != nil:
			return nil, err
		case slate:
			found[f.Name] = seen
		}
		bar.Step(i+1, len(frames), f.Name)
	}
	return found, nil
}

// findSlate looks for a slate in a frame, and for the ruler where it shows one.
func findSlate(ctx context.Context, env *command.Env, f frame.Frame) (seen runfile.SlateSeen, slate bool, err error) {
	symbol, err := env.Symbol(ctx, f)
	if err != nil {
		return seen, false, err
	}
	if _, slate, _ = runfile.ParseSlate(symbol.Text); !slate {
		return seen, false, nil
	}
	sighting, err := env.Look(ctx, f, ruler.Hint{})
	if err != nil {
		return seen, false, err
	}
	r := reading.Interpret(sighting, ruler.Spec{})
	return runfile.SlateSeen{Text: symbol.Text, WithRuler: r.Status == ruler.StatusRead}, true, nil
}
