package main

import (
	"bytes"
	"os"
	"testing"
)

// restate changes a text wherever it stands in a file.
func restate(t *testing.T, path, from, to string) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	out := bytes.ReplaceAll(data, []byte(from), []byte(to))
	if bytes.Equal(out, data) {
		t.Fatalf("%s does not hold %q", path, from)
	}
	if err := os.WriteFile(path, out, 0o644); err != nil {
		t.Fatal(err)
	}
}
