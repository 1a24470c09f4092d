package command

import (
	"context"
	"image"
	"io"
	"sync/atomic"
	"time"

	"github.com/spf13/cobra"

	"leadmark/calib/follow"
	"leadmark/calib/read"
	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/output"
	"leadmark/vision/frame"
	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// Env is what the commands share: where they print, and the world outside, so that tests can put
// their own in its place.
type Env struct {
	Stdout, Stderr io.Writer
	Getenv         func(string) string
	Now            func() time.Time
	Version        string        // of this program, with its commit
	Program        func() string // tells builds apart, those of uncommitted code too; worked out when first asked for

	Pixels    pixel.Library
	Look      read.LookFunc
	Shift     read.ShiftFunc // how far the scene moved between two frames
	Symbol    func(ctx context.Context, f frame.Frame) (ruler.Symbol, error)
	Picture   func(ctx context.Context, f frame.Frame, maxSide int) (image.Image, error)
	Following func(ctx context.Context, dir string, o follow.Options) error

	Rigs  string // --rigs
	Begun bool   // a command was understood and begun

	Written  output.Ledger
	LastStop context.Context // ends when a command that finishes must stop all the same
	Finishes atomic.Bool     // the first signal is the command's own end, and it has something to finish
	Endless  atomic.Bool     // it runs until it is told to stop, which is no failure
}

// Begin marks a command as understood: what fails from here on is not a fault of usage.
func (e *Env) Begin(do func(c *cobra.Command, args []string) error) func(*cobra.Command, []string) error {
	return func(c *cobra.Command, args []string) error {
		e.Begun = true
		return do(c, args)
	}
}

// Store opens the rigs' profiles.
func (e *Env) Store() (rig.Store, error) { return rig.Open(e.Rigs, e.Getenv) }
