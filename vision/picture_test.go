package vision

import (
	"crypto/sha256"
	"fmt"
	"os"
	"testing"

	"leadmark/vision/frame"
	"leadmark/vision/frame/integrity"
)

// whole is a picture that was decoded whole.
func whole(g *gray) pyramid { return newPyramid(g, 1, g.w, g.h) }

// grayOfFile decodes a file whole.
func grayOfFile(f frame.Frame) (*gray, error) {
	p, err := new(memory).decode(f, 1, integrity.MaxSide)
	if err != nil {
		return nil, err
	}
	return p.levels[0], nil
}

// listed is a file's frame with nothing known but its bytes, whatever they are.
func listed(t *testing.T, path string) frame.Frame {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return frame.Frame{Path: path, Size: int64(len(data)), Digest: fmt.Sprintf("%x", sha256.Sum256(data))}
}
