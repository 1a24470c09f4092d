package main

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const room = `package room

// limit decides.
const limit = 3

type T struct{}

func (*T) Big(n int) bool { return n > limit }

func big(n int) bool { return n > limit && n > limit }
`

func TestPlacesAreFoundByName(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "room.go"), []byte(room), 0o666); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"limit": "const limit = 4", "T.Big": "{ return n >= limit }"} {
		old, new := "3", "4"
		if name == "T.Big" {
			old, new = ">", ">="
		}
		_, text, err := broken(dir, name, old, new)
		if err != nil || !strings.Contains(string(text), want) || len(text) != len(room)+len(new)-len(old) {
			t.Errorf("%s: %v\n%s", name, err, text)
		}
	}
	for _, gone := range []string{"big", "Big", "T.Small"} { // twice, not a method's name, not there
		if _, _, err := broken(dir, gone, "n > limit", "n"); err == nil || !strings.Contains(err.Error(), "gone") {
			t.Errorf("%s: %v", gone, err)
		}
	}
}

// Every place of the list is there: a break that is not laid tells nothing.
func TestEveryPlaceIsThere(t *testing.T) {
	names := map[string]bool{}
	for _, b := range breaks() {
		if _, _, err := broken(filepath.Join("..", "..", b.room), b.in, b.old, b.new); err != nil {
			t.Errorf("%s: %v", b.name, err)
		}
		if names[b.name] {
			t.Errorf("%s is there twice", b.name)
		}
		names[b.name] = true
	}
}

// Only a test that failed has noticed.
func TestVerdict(t *testing.T) {
	status := errors.New("exit status 1")
	for out, c := range map[string]struct {
		failed  error
		noticed bool
	}{
		"--- FAIL: TestX (0.00s)\nFAIL":        {status, true},
		"panic: test timed out":                {status, true},
		"ok  \tleadmark/fit":                   {nil, false},
		"ok  \tleadmark/fit [no tests to run]": {nil, false},
		"FAIL\tleadmark/fit [build failed]":    {status, false},
		"?   \tleadmark/fit\t[no test files]":  {nil, false},
		"go: cannot find main module":          {status, false},
		"FAIL leadmark/fit [setup failed]\n":   {status, false},
	} {
		if err := verdict([]byte(out), c.failed); (err == nil) != c.noticed {
			t.Errorf("%q: %v", out, err)
		}
	}
}
