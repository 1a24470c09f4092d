package desk

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"leadmark/calib/rig"
	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// FuzzRequest: no request whatever makes a handler panic, and none gets out what lies outside the
// folders that are shown. The handler is asked without a network between, past the guard of the
// token, as a page that has it could.
func FuzzRequest(f *testing.F) {
	for path, body := range changing() {
		f.Add("POST", path, body)
	}
	for _, path := range []string{"/", "/run/night1", "/run/night1/state", "/run/night1/picture/a.jpg",
		"/run/night1/marks/b.jpg", "/run/night1/clip/a.jpg", "/run/..%2f..%2fsecret.txt",
		"/run/night1/picture/..%2f..%2fsecret.jpg", "/rigs", "/plan?subject=x&field_mm=1", "/look/base.js"} {
		f.Add("GET", path, "")
	}
	root := f.TempDir()
	write := func(data []byte, path ...string) {
		name := filepath.Join(append([]string{root}, path...)...)
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			f.Fatal(err)
		}
		if err := os.WriteFile(name, data, 0o666); err != nil {
			f.Fatal(err)
		}
	}
	write([]byte(runText), "nights", "night1", "run.toml")
	write(pictureBytes(f), "nights", "night1", "a.jpg")
	write([]byte("the secret"), "secret.txt")
	s, err := New(Options{Folder: filepath.Join(root, "nights"),
		Rigs: rig.Store{Root: filepath.Join(root, "rigs")}, Now: time.Now, Program: func() string { return "test" },
		Picture: func(context.Context, frame.Frame, int) (image.Image, error) {
			return image.NewGray(image.Rect(0, 0, 4, 4)), nil
		},
		Look: func(_ context.Context, p frame.Frame, _ ruler.Hint) (ruler.Sighting, error) {
			return ruler.Sighting{Width: p.Width, Height: p.Height,
				Refusal: note.New("no-ruler")}, nil
		}})
	if err != nil {
		f.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	f.Cleanup(func() { // before the folder goes, in which they write
		stop()
		s.runs.Wait()
	})
	s.ctx = ctx
	h := s.routes()
	f.Fuzz(func(t *testing.T, method, path, body string) {
		if strings.HasSuffix(path, "/events") || len(path) > 2000 {
			return // answers for as long as it is listened to
		}
		r, err := http.NewRequest(method, "http://127.0.0.1"+path, io.NopCloser(strings.NewReader(body)))
		if err != nil {
			return
		}
		r.Header.Set("Content-Type", "application/json")
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r.WithContext(ctx))
		if bytes.Contains(w.Body.Bytes(), []byte("the secret")) {
			t.Errorf("%s %s gave the secret away", method, path)
		}
	})
}

// pictureBytes is a small picture.
func pictureBytes(f *testing.F) []byte {
	f.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 64, 48)), nil); err != nil {
		f.Fatal(err)
	}
	return b.Bytes()
}
