//go:build unix

package store

import (
	"io/fs"
	"syscall"
)

// noFollow opens what stands at the path itself: no link is followed, and no pipe is waited for.
const noFollow = syscall.O_NOFOLLOW | syscall.O_NONBLOCK

// noWait waits for no pipe.
const noWait = syscall.O_NONBLOCK

// links is how many names a file has.
func links(info fs.FileInfo) int {
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return int(s.Nlink)
	}
	return 1
}
