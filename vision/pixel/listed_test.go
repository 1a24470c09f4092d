package pixel_test

import (
	"crypto/sha256"
	"fmt"
	"os"
	"testing"

	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
)

// library is what pictures are decoded with here.
var library native.Library

// listed is a file's frame with nothing known but its bytes, whatever they are.
func listed(t *testing.T, path string) frame.Frame {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return frame.Frame{Path: path, Size: int64(len(data)), Digest: fmt.Sprintf("%x", sha256.Sum256(data))}
}
