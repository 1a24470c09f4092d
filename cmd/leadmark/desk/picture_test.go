package desk

import (
	"io"
	"net/http"
	"os"
	"path/filepath"
	"testing"

	"leadmark/cmd/leadmark/desk/reply"
	"leadmark/vision/frame"
)

// A frame is shown as it was read: another picture in its place is not.
func TestShownIsWhatWasRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.jpg")
	put(t, path, someJPEG(t, 1))
	f, bad := frame.Open(path)
	if bad != nil {
		t.Fatal(bad)
	}
	for what, c := range map[string]struct {
		now    []byte
		status int // 0: shown
	}{"as it was": {someJPEG(t, 1), 0}, "another": {someJPEG(t, 2), http.StatusConflict}} {
		put(t, path, c.now)
		file, err := os.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		picture, err := shown(file, f)
		switch {
		case c.status == 0 && err != nil:
			t.Errorf("%s: %v", what, err)
		case c.status == 0:
			if data, err := io.ReadAll(picture); err != nil || string(data) != string(c.now) {
				t.Errorf("%s: %d bytes, %v", what, len(data), err)
			}
		case reply.Code(err) != c.status:
			t.Errorf("%s: %v", what, err)
		}
		if err := file.Close(); err != nil {
			t.Fatal(err)
		}
	}
}
