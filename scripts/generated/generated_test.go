package generated

import (
	"os"
	"path/filepath"
	"testing"
)

func TestPut(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	if err := Put(path, []byte("one"), true, "it"); err == nil {
		t.Error("a file that is not there was held for right")
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("a check wrote the file")
	}
	if err := Put(path, []byte("one"), false, "it"); err != nil {
		t.Error(err)
	}
	if err := Put(path, []byte("one"), true, "it"); err != nil {
		t.Error(err)
	}
	if err := Put(path, []byte("two"), true, "it"); err == nil {
		t.Error("another text was held for right")
	}
}
