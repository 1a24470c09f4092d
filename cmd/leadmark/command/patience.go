package command

import (
	"fmt"
	"io"
	"time"

	"leadmark/calib/store"
)

// Patience says on stderr that another program is waited for.
func Patience(stderr io.Writer) store.Patience {
	return store.Patience{Quiet: 500 * time.Millisecond, Tell: func(path string, most time.Duration) {
		fmt.Fprintf(stderr, "note: another program is writing at %s; waiting for it, %v at most\n", path, most)
	}}
}
