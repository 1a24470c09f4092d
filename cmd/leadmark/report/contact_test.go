package report

import (
	"encoding/csv"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/calib/shoot"
	"leadmark/fit/note"
	"leadmark/vision/animal"
)

// The contact sheet has the best first, each frame once with its outline, and names escaped; the
// table has a line for each frame.
func TestContactSheet(t *testing.T) {
	a := animal.Animal{Outline: []animal.Point{{X: 1, Y: 1}, {X: 9, Y: 1}, {X: 5, Y: 8}},
		Nose: animal.Point{X: 9, Y: 1}, Edges: &animal.Edges{Width: 2}}
	thumb := animal.Thumb{Width: 20, Height: 10, Scale: 2, JPEG: []byte{1, 2, 3}}
	r := shoot.Result{NotLearned: "too few", Frames: []shoot.FrameResult{
		{Name: "poor.jpg", Status: shoot.Found, Animal: &a, Animals: 1, Rating: 2, Measured: true,
			Cause: shoot.CauseMotion, Thumb: thumb},
		{Name: "a<b>.jpg", Status: shoot.Found, Animal: &a, Animals: 1, Rating: 5, Measured: true, Sharp: true,
			InReach: true, Thumb: thumb},
		{Name: "gone.jpg", Status: shoot.Empty},
		{Name: "bad.jpg", Status: shoot.Refused, Reason: note.Of("unreadable", "missing")},
	}}
	dir := t.TempDir()
	if err := WriteShoot(dir, r); err != nil {
		t.Fatal(err)
	}
	page, table := read(t, filepath.Join(dir, "contact.html")), read(t, filepath.Join(dir, framesFile))
	last := -1
	for _, name := range []string{"a&lt;b&gt;.jpg</b>", "poor.jpg</b>", "gone.jpg</b>", "bad.jpg</b>"} {
		at := strings.Index(page, name)
		if at <= last || strings.Count(page, name) != 1 {
			t.Errorf("%s stands at %d, after %d, %d times", name, at, last, strings.Count(page, name))
		}
		last = at
	}
	for _, want := range []string{"●●●●● 5 of 5", "●●○○○ 2 of 5", "not sharp: motion", "no animal",
		"there is no such file", `d="M0.8 0.8L4.8 0.8L2.8 4.2Z"`, "No speed was learned: too few."} {
		if !strings.Contains(page, want) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
	d := xml.NewDecoder(strings.NewReader(strings.ReplaceAll(page, "<!doctype html>", "")))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("the sheet is not well formed: %v", err)
		}
	}
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil || len(rows) != 5 || rows[1][0] != "poor.jpg" || rows[1][2] != "2" {
		t.Errorf("the table: %v %v", rows, err)
	}
}

// The sheet of a long shoot has 200 frames a page, each frame stands on one of them, and pages of
// an earlier, longer shoot go.
func TestLongContactSheet(t *testing.T) {
	var r shoot.Result
	for i := range 450 {
		r.Frames = append(r.Frames, shoot.FrameResult{Name: fmt.Sprintf("IMG_%04d.JPG", i), Status: shoot.Empty})
	}
	dir := t.TempDir()
	for _, n := range []int{450, 250} {
		r.Frames = r.Frames[:n]
		if err := WriteShoot(dir, r); err != nil {
			t.Fatal(err)
		}
		pages, err := filepath.Glob(filepath.Join(dir, "contact*.html"))
		if err != nil || len(pages) != (n+199)/200 {
			t.Fatalf("%d frames are on %v (%v)", n, pages, err)
		}
		all := ""
		for _, p := range pages {
			all += read(t, p)
		}
		for _, f := range r.Frames {
			if strings.Count(all, "<b>"+f.Name+"</b>") != 1 {
				t.Fatalf("%s is not there once", f.Name)
			}
		}
		if strings.Count(all, `aria-current="page"`) != len(pages) ||
			strings.Count(all, `href="contact.html"`) != len(pages)-1 {
			t.Error("the pages do not lead to one another")
		}
	}
}
