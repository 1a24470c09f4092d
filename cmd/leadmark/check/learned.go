package check

import (
	"context"

	"leadmark/calib/input"
	"leadmark/calib/shoot"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/output"
)

// writeLearned writes what the shoot taught of the subject.
func writeLearned(ctx context.Context, env *command.Env, r shoot.Result) (note string, err error) {
	old, err := input.ReadBounded(r.Setup.Subject, 1<<20)
	if err != nil {
		return "", err
	}
	text, err := shoot.NewSubject(r.Setup.Subject, old, r, env.Now())
	if err != nil {
		return "", err
	}
	path := ""
	env.Written.Begin("a learned subject beside " + r.Setup.Subject)
	path, err = shoot.WriteSubject(ctx, r.Setup.Subject, text)
	n := 0
	if err == nil {
		n = 1
	}
	env.Written.Done(output.Kind{One: "the learned subject " + path}, n)
	return "The learned subject: " + path, err
}
