package main

import (
	"context"
	"io"
)

// run is the whole program but for the exit status and the printing of errors.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) error {
	return newApp(stdout, stderr).run(ctx, args)
}
