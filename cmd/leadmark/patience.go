package main

import (
	"fmt"
	"time"

	"leadmark/calib/store"
)

// patience says on stderr that another program is waited for.
func (a *app) patience() store.Patience {
	return store.Patience{Quiet: 500 * time.Millisecond, Tell: func(path string, most time.Duration) {
		fmt.Fprintf(a.stderr, "note: another program is writing at %s; waiting for it, %v at most\n", path, most)
	}}
}
