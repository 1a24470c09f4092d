package frame

import (
	"io/fs"
	"syscall"
	"time"
)

// changed is when a file or what is said of it was last changed, which no program can set.
func changed(info fs.FileInfo) time.Time {
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return time.Unix(s.Ctim.Unix())
	}
	return time.Time{}
}
