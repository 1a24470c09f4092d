//go:build !unix

package store

import "io/fs"

// Flags of opening that there are elsewhere; here a look before has to do.
const (
	noFollow = 0
	noWait   = 0
)

// links is how many names a file has, 1 where that is not told.
func links(fs.FileInfo) int { return 1 }
