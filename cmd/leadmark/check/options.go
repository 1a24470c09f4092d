package check

import "leadmark/cmd/leadmark/planning"

// options are the flags of check.
type options struct {
	planning.Options
	out, cutouts            string
	json, xmp, force, learn bool
	start                   bool
}
