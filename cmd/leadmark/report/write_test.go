package report

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"image/jpeg"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/annotate"
	"leadmark/cmd/leadmark/report/page"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/cmd/leadmark/report/testdata/bees"
	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// With -args -keep DIR the tests draw the frames at full size and leave the reports there.
var kept = flag.String("keep", "", "write the bees' reports into this folder and keep them")

func options() Options {
	return Options{Made: time.Date(2026, 5, 3, 18, 4, 0, 0, time.UTC), Version: "0.2.0-test", Workers: 2}
}

func outDir(t *testing.T, name string) string {
	t.Helper()
	if *kept == "" {
		return t.TempDir()
	}
	return filepath.Join(*kept, name)
}

// written makes a report and returns its folder and its page.
func written(t *testing.T, name string, r calib.Result, o Options) (dir, page string) {
	t.Helper()
	dir = outDir(t, name)
	if err := Write(context.Background(), dir, r, o); err != nil {
		t.Fatal(err)
	}
	return dir, read(t, filepath.Join(dir, "report.html"))
}

func read(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func withPictures(r calib.Result) Options {
	o := options()
	o.Picture = bees.Picture(r, *kept != "")
	return o
}

func TestWriteMakesTheFilesOfTheContract(t *testing.T) {
	r := bees.Run(8, 0.15, 0.4, 0.9)
	o := withPictures(r)
	steps := 0
	o.Progress = func(done, total int, name string) { steps++ }
	dir, page := written(t, "bees", r, o)

	var result struct{ Schema string }
	if err := json.Unmarshal([]byte(read(t, filepath.Join(dir, "result.json"))), &result); err != nil ||
		result.Schema != "leadmark/result/1" {
		t.Errorf("result.json: schema %q, %v", result.Schema, err)
	}
	rows, err := csv.NewReader(strings.NewReader(read(t, filepath.Join(dir, "readings.csv")))).ReadAll()
	if err != nil || len(rows) != len(r.Frames)+1 {
		t.Errorf("readings.csv: %d lines for %d frames, %v", len(rows), len(r.Frames), err)
	}
	for i, f := range r.Frames {
		name := filepath.Join(dir, "frames", fmt.Sprintf("IMG_%04d.svg", i+1))
		checkAnnotated(t, read(t, name))
		if rows[i+1][0] != f.Name || rows[i+1][1] != string(f.Status) {
			t.Errorf("line %d of readings.csv is %q, %q; want %q, %q", i+2, rows[i+1][0], rows[i+1][1], f.Name,
				f.Status)
		}
	}
	if steps != len(r.Frames) {
		t.Errorf("progress was told of %d frames, want %d", steps, len(r.Frames))
	}
	if n := strings.Count(page, "data:image/jpeg;base64,"); n != len(r.Frames) {
		t.Errorf("%d thumbnails in the page, want %d", n, len(r.Frames))
	}
}

func TestWriteReplacesOnlyItsOwnFiles(t *testing.T) {
	r := bees.Run(3, 0.4, 0.9)
	o := withPictures(r)
	dir := t.TempDir()
	for range 2 { // the second time over the first
		if err := Write(context.Background(), dir, r, o); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"result.json", "readings.csv", "report.html", "frames/IMG_0002.svg"} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, name)
			const theirs = "somebody's only copy"
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, []byte(theirs), 0o644); err != nil {
				t.Fatal(err)
			}
			if err := Write(context.Background(), dir, r, o); !errors.Is(err, ErrNotOurs) {
				t.Errorf("error is %v, want ErrNotOurs", err)
			}
			if got := read(t, path); got != theirs {
				t.Errorf("the file now holds %d bytes of something else", len(got))
			}
			if list, _ := os.ReadDir(dir); len(list) != 1 {
				t.Errorf("something was written beside it: %v", list)
			}
		})
	}
}

// In a folder that came from somebody else there may be links at names that are written to, and a
// link in the place of frames.
func TestWriteFollowsNoPlantedLink(t *testing.T) {
	r := bees.Run(3, 0.4)
	victim := filepath.Join(t.TempDir(), "letter.txt")
	if err := os.WriteFile(victim, []byte("a letter"), 0o644); err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for _, name := range []string{"frames/IMG_0002.svg.part", "frames/.IMG_0002.svg.part", ".result.json.part",
		".report.html.part"} {
		link := filepath.Join(dir, name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(link), 0o755), os.Symlink(victim, link)); err != nil {
			t.Skipf("no symbolic links here: %v", err)
		}
	}
	if err := Write(context.Background(), dir, r, withPictures(r)); err != nil {
		t.Error(err)
	}
	if got := read(t, victim); got != "a letter" {
		t.Errorf("the file elsewhere holds %d bytes of something else", len(got))
	}
	elsewhere, other := t.TempDir(), t.TempDir()
	if err := os.Symlink(elsewhere, filepath.Join(other, "frames")); err != nil {
		t.Fatal(err)
	}
	if err := Write(context.Background(), other, r, withPictures(r)); !errors.Is(err, ErrNotOurs) {
		t.Errorf("error is %v, want ErrNotOurs", err)
	}
	if list, _ := os.ReadDir(elsewhere); len(list) != 0 {
		t.Errorf("written elsewhere: %v", list)
	}
}

// What a killed program left in a report goes with the next one.
func TestWriteCleansUp(t *testing.T) {
	dir := t.TempDir()
	left := []string{"frames/.IMG_0002.svg.leadmark-aaaaaaaaaaaaaaaa.part",
		".report.html.leadmark-aaaaaaaaaaaaaaaa.part"}
	for _, name := range left {
		path := filepath.Join(dir, name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, nil, 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	r := bees.Run(3, 0.4)
	if err := Write(context.Background(), dir, r, withPictures(r)); err != nil {
		t.Fatal(err)
	}
	for _, name := range left {
		if _, err := os.Lstat(filepath.Join(dir, name)); err == nil {
			t.Errorf("%s is still there", name)
		}
	}
}

func TestWriteDoesNotFollowALink(t *testing.T) {
	dir, target := t.TempDir(), filepath.Join(t.TempDir(), "elsewhere.html")
	if err := os.WriteFile(target, []byte(page.Sign), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(target, filepath.Join(dir, "report.html")); err != nil {
		t.Skip("no symbolic links here")
	}
	if err := Write(context.Background(), dir, bees.Run(3, 0.4), options()); !errors.Is(err, ErrNotOurs) {
		t.Errorf("error is %v, want ErrNotOurs", err)
	}
}

func TestPictureThatFailsIsSaid(t *testing.T) {
	r := bees.Run(3, 0.4, 0.9)
	o := withPictures(r)
	draw := o.Picture
	o.Picture = func(ctx context.Context, f frame.Frame) (ruler.Clips, error) {
		if f.Name == r.Frames[2].Name {
			return ruler.Clips{}, errors.New("the file ends too early")
		}
		return draw(ctx, f)
	}
	dir, page := written(t, "onefails", r, o)
	if !strings.Contains(page, "its picture could not be shown: the file ends too early") {
		t.Error("the page does not say why a picture is missing")
	}
	if _, err := os.Stat(filepath.Join(dir, "frames", "IMG_0003.svg")); err == nil {
		t.Error("there is an annotated frame without a picture")
	}
}

func TestWriteStopsWhenTold(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	r := bees.Run(5, 0.4)
	o := withPictures(r)
	o.Progress = func(done, total int, name string) { stop() }
	dir := t.TempDir()
	if err := Write(ctx, dir, r, o); !errors.Is(err, context.Canceled) {
		t.Errorf("error is %v, want context.Canceled", err)
	}
	if _, err := os.Stat(filepath.Join(dir, "report.html")); err == nil {
		t.Error("a page was written after the stop")
	}
}

// The cards of a long run are on pages of their own, 200 a page, and every link finds its goal.
func TestManyFramesGetPagesOfCards(t *testing.T) {
	r := bees.Run(101, 0.4, 0.9)
	for i := range r.Frames {
		r.Frames[i].Reading.Graduations = ruler.Graduations{} // drawn quickly
	}
	o := options()
	clip := bees.Clip(r.Frames[0], 100)
	o.Picture = func(context.Context, frame.Frame) (ruler.Clips, error) {
		return ruler.Clips{Large: clip, Small: clip}, nil
	}
	dir, page := written(t, "many", r, o)
	if strings.Contains(page, "data:image/jpeg") {
		t.Error("a run of more than 200 frames has its pictures on the page itself")
	}
	ids := map[string]bool{}
	shown := 0
	for _, name := range []string{"cards-1.html", "cards-2.html"} {
		text := read(t, filepath.Join(dir, name))
		p := parse(t, text)
		checkLoads(t, p)
		checkPicturesAndTables(t, p)
		checkHeadings(t, p)
		shown += strings.Count(text, "data:image/jpeg;base64,")
		for _, e := range p.all("li") {
			ids[name+"#"+e.attr["id"]] = true
		}
	}
	if shown != len(r.Frames) {
		t.Errorf("%d pictures on the pages of cards, want %d", shown, len(r.Frames))
	}
	for _, e := range parse(t, page).all("a") {
		if h := e.attr["href"]; strings.HasPrefix(h, "cards-") && strings.Contains(h, "#") && !ids[h] {
			t.Errorf("link to nothing: %q", h)
		}
	}

	// A shorter run in the same folder takes the pages and the annotated frames of this one away,
	// and leaves what is not ours.
	theirs := filepath.Join(dir, "frames", "holiday.jpg")
	if err := os.WriteFile(theirs, []byte("not ours"), 0o644); err != nil {
		t.Fatal(err)
	}
	short := bees.Run(3, 0.4)
	o = withPictures(short)
	if err := Write(context.Background(), dir, short, o); err != nil {
		t.Fatal(err)
	}
	left, _ := filepath.Glob(filepath.Join(dir, "cards-*.html"))
	frames, _ := filepath.Glob(filepath.Join(dir, "frames", "*"))
	if len(left) != 0 || len(frames) != len(short.Frames)+1 || read(t, theirs) != "not ours" {
		t.Errorf("left %v and %d frames, want none and %d", left, len(frames), len(short.Frames)+1)
	}
}

func TestManyReadingsByHandHaveNoCards(t *testing.T) {
	_, page := written(t, "manybyhand", bees.Run(101, 0.4, 0.9), options())
	p := parse(t, page)
	checkIDs(t, p)
	if strings.Contains(page, `class="card`) || strings.Contains(page, "cards-1.html") {
		t.Error("cards without pictures")
	}
}

// A single picture says what it shows, with no advance: it belongs to no run.
func TestAnnotateDrawsAFrameByItself(t *testing.T) {
	r := bees.Run(3, 0.9)
	f := r.Frames[1]
	clips, err := bees.Picture(r, *kept != "")(context.Background(), f.Frame)
	if err != nil {
		t.Fatal(err)
	}
	f.Advance, f.U = 0, 0
	noFront := f
	noFront.Reading.Front, noFront.FrontPX = nil, ruler.Point{}
	refused := f
	refused.Status, refused.Reason, refused.Reading = ruler.StatusRefused,
		note.New("dark"), ruler.Reading{}
	for name, f := range map[string]calib.FrameResult{"read": f, "no front": noFront, "refused": refused} {
		text := annotate.Frame(clips.Large, f, annotate.Trip{})
		checkAnnotated(t, string(text))
		path := filepath.Join(t.TempDir(), "a.svg")
		for range 2 {
			if err := Replace(path, text); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
	for want, f := range map[string]calib.FrameResult{"front end at": f, "not in the picture": noFront,
		"refused: the picture": refused} {
		if got := summary.Verdict(f); !strings.Contains(got, want) || strings.Contains(got, "advance") {
			t.Errorf("%q, want %q in it", got, want)
		}
	}
}

// checkAnnotated wants an SVG that is well formed, loads nothing and shows one picture.
func checkAnnotated(t *testing.T, text string) {
	t.Helper()
	images := 0
	for d := xml.NewDecoder(strings.NewReader(text)); ; {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("an annotated frame is not well formed: %v", err)
		}
		if e, ok := token.(xml.StartElement); ok && e.Name.Local == "image" {
			images++
			for _, a := range e.Attr {
				if a.Name.Local != "href" {
					continue
				}
				data, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(a.Value, "data:image/jpeg;base64,"))
				if err == nil {
					_, err = jpeg.DecodeConfig(bytes.NewReader(data))
				}
				if err != nil {
					t.Errorf("the picture of an annotated frame: %v", err)
				}
			}
		}
	}
	if images != 1 || strings.Contains(text, "http://") &&
		strings.Count(text, "http://") != strings.Count(text, `xmlns="http://www.w3.org/2000/svg"`) {
		t.Errorf("%d pictures in an annotated frame, or it loads something", images)
	}
}
