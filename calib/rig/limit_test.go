package rig

import (
	"strconv"
	"syscall"
	"testing"

	"os/signal"
)

// limitFileSize makes writes past a size fail in this process, as on a full disk.
func limitFileSize(t *testing.T, size string) {
	n, err := strconv.ParseUint(size, 10, 64)
	if err != nil {
		t.Fatal(err)
	}
	signal.Ignore(syscall.SIGXFSZ)
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: n, Max: n}); err != nil {
		t.Fatal(err)
	}
}
