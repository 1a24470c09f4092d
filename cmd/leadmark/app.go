package main

import (
	"context"
	"io"
	"os"
	"sync"
	"time"

	"leadmark/calib/follow"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/picture"
	"leadmark/cmd/leadmark/terminal"
	"leadmark/vision"
	"leadmark/vision/pixel/native"
	"leadmark/vision/synth/runs"
)

// graceTime is how long a command may take to end by itself after it was told to stop: with it, it
// ends within a second.
const graceTime = 500 * time.Millisecond

// app is the program: what its commands share, what the demonstration draws, and how long a command
// that was told to stop is waited for.
type app struct {
	command.Env
	demoRun  func(seed int64) runs.RunSpec
	demoBees func(seed uint64) bees
	grace    func() <-chan time.Time
}

func newApp(stdout, stderr io.Writer) *app {
	looker := vision.NewLooker(native.Library{})
	return &app{
		Env: command.Env{
			Stdout: terminal.NewWriter(stdout), Stderr: terminal.NewWriter(stderr), Getenv: os.Getenv, Now: time.Now,
			Version: version(), Program: sync.OnceValue(thisProgram),
			Pixels: native.Library{}, Look: looker.Look, Shift: vision.Shift, Symbol: looker.ReadSlate,
			Picture: picture.Load, Following: follow.Follow,
			LastStop: context.Background(),
		},
		demoRun: runs.DemoRun, demoBees: demoBees,
		grace: func() <-chan time.Time { return time.After(graceTime) },
	}
}
