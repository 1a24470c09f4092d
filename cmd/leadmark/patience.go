package main

import (
	"fmt"
	"time"

	"leadmark/keep"
)

// patience says on stderr that another program is waited for.
func (a *app) patience() keep.Patience {
	return keep.Patience{Quiet: 500 * time.Millisecond, Tell: func(path string, most time.Duration) {
		fmt.Fprintf(a.stderr, "note: another program is writing at %s; waiting for it, %v at most\n", path, most)
	}}
}
