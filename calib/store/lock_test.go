package store_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"leadmark/calib/store"
)

// A lock that another holds is waited for with a word; the waiting ends with the context, and what
// was waited for is let go.
func TestALockIsGivenUpWithTheContext(t *testing.T) {
	dir := t.TempDir()
	unlock, err := store.Lock(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	told := ""
	waiting := store.WithPatience(ctx, store.Patience{Most: time.Hour, Tell: func(path string, _ time.Duration) {
		told = path
		stop()
	}})
	if _, err := store.Lock(waiting, dir); !errors.Is(err, context.Canceled) || told != dir {
		t.Errorf("%v, told of %q", err, told)
	}
	if err := unlock(); err != nil {
		t.Fatal(err)
	}
	// what was given up must not hold it
	again, err := store.Lock(store.WithPatience(t.Context(), store.Patience{Most: time.Hour}), dir)
	if err != nil {
		t.Fatal(err)
	}
	if err := again(); err != nil {
		t.Error(err)
	}
}

// It is not waited for for ever.
func TestALockIsWaitedForALimitedTime(t *testing.T) {
	dir := t.TempDir()
	unlock, err := store.Lock(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = unlock() }()
	_, err = store.Lock(store.WithPatience(t.Context(), store.Patience{Most: time.Nanosecond}), dir)
	refused(t, "lock", err, "another program was still writing here after")
}

// Whoever waits gets it when it is free.
func TestALockIsHadWhenItIsFree(t *testing.T) {
	dir := t.TempDir()
	unlock, err := store.Lock(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	waiting := store.WithPatience(t.Context(), store.Patience{Most: time.Hour,
		Tell: func(string, time.Duration) { _ = unlock() }})
	again, err := store.Lock(waiting, dir)
	if err != nil {
		t.Fatal(err)
	}
	if err := again(); err != nil {
		t.Error(err)
	}
}

// A file that was replaced while its lock was waited for is locked anew: else two would hold the
// lock of one name.
func TestALockIsOfWhatHasTheNameNow(t *testing.T) {
	path := put(t, filepath.Join(t.TempDir(), "rig.toml"), "old")
	unlock, err := store.Lock(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	first := store.WithPatience(t.Context(), store.Patience{Most: time.Hour, Tell: func(string, time.Duration) {
		put(t, path+".new", "new")
		if err := os.Rename(path+".new", path); err != nil {
			t.Error(err)
		}
		_ = unlock()
	}})
	mine, err := store.Lock(first, path)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = mine() }()
	if _, err := store.Lock(store.WithPatience(t.Context(), store.Patience{Most: time.Nanosecond}), path); err == nil {
		t.Error("two hold the lock of one file")
	}
}

// A context that has ended gets no lock, be it free.
func TestNoLockAfterTheEnd(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := store.Lock(ctx, t.TempDir()); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

// Locking makes nothing where there is nothing, and follows no link to make something.
func TestALockMakesNothing(t *testing.T) {
	dir := t.TempDir()
	victim, link := filepath.Join(t.TempDir(), "elsewhere"), filepath.Join(dir, "link")
	if err := os.Symlink(victim, link); err != nil {
		t.Skipf("no links here: %v", err)
	}
	for _, path := range []string{link, filepath.Join(dir, "missing")} {
		if _, err := store.Lock(t.Context(), path); err == nil {
			t.Errorf("%s was locked", path)
		}
	}
	if _, err := os.Lstat(victim); err == nil {
		t.Error("a file was made elsewhere")
	}
	if left := names(t, dir); left != "link" {
		t.Errorf("there is now %s", left)
	}
}
