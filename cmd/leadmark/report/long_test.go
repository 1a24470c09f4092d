package report

import (
	"strings"
	"testing"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/testdata/bees"
	"leadmark/fit/note"
	"leadmark/vision/ruler"
)

// longRuns are runs of n shots and what may make their pages long: shots alone; many that were refused
// or are odd, with doubts that name them; a speed of its own for each.
func longRuns(n int) map[string]calib.Result {
	odd := bees.Run(n, 0.4)
	warning := calib.Warning{Note: note.New("camera-moved")}
	k := 0
	for i := range odd.Frames {
		f := &odd.Frames[i]
		if i%3 == 1 {
			f.Status, f.Reason = ruler.StatusRefused, note.Of("no-ruler", "still")
		}
		if f.Status != ruler.StatusRead {
			continue
		}
		if i%3 == 2 {
			f.Fit.Outlier, f.Fit.Why = true, note.Of("odd-shot", "past", 1e-3, 5.2)
			odd.Fit.Odd.Shots = append(odd.Fit.Odd.Shots, k)
		}
		k++
		warning.Frames = append(warning.Frames, f.Name)
	}
	odd.Warnings = append(odd.Warnings, warning)
	own := bees.Run(n, 0.4)
	advance := own.Fit.Advance[0]
	for i := range own.Frames {
		own.Frames[i].Conditions.Drop = 0.4 + 0.4*float64(i)/float64(n)
		advance.Drop = own.Frames[i].Conditions.Drop
		own.Fit.Advance = append(own.Fit.Advance, advance)
	}
	return map[string]calib.Result{"shots": bees.Run((n+2)/3, 0.15, 0.4, 0.9), "odd": odd, "own": own}
}

// The page of a long run does not grow with it, whatever the run is of: it has no mark, row or name
// for each shot. It says what it leaves out, and no link of it leads nowhere.
func TestThePageOfALongRunDoesNotGrowWithIt(t *testing.T) {
	sizes := map[string][]int{}
	for _, n := range []int{500, 2000} {
		for kind, r := range longRuns(n) {
			_, page := written(t, kind, r, options())
			sizes[kind] = append(sizes[kind], len(page))
			p := parse(t, page)
			checkIDs(t, p)
			checkPicturesAndTables(t, p)
			if !strings.Contains(page, "Every frame is in readings.csv beside this page.") {
				t.Errorf("%d shots, %s: the page does not say that its table leaves frames out", n, kind)
			}
		}
	}
	for kind, s := range sizes {
		t.Logf("%s: %d bytes of 500 shots, %d of 2,000", kind, s[0], s[1])
		// Figures fill up, the fuller the slower, until every place has its mark. With a mark, a row and a
		// name for each shot, four times as many shots took 3.8 times as much and 3 MB.
		if most := 1_000_000; s[1] > most || s[1] > 2*s[0] {
			t.Errorf("%s: %d bytes of 500 shots, %d of 2,000, want at most %d and twice as many", kind, s[0], s[1], most)
		}
	}
}

// Up to 300 frames all are in the table; of a longer run those are that are not like the others.
func TestTheTableOfALongRun(t *testing.T) {
	for n, want := range map[int]int{299: 300, 399: 101} { // and the still
		r := bees.Run(n, 0.4)
		r.Frames[11].Fit.Outlier, r.Frames[350%n].Fit.Outlier = false, n > 300
		_, page := written(t, "table", r, options())
		rows := 0
		for _, e := range parse(t, page).all("tr") {
			if strings.HasPrefix(e.words(), "IMG_") {
				rows++
			}
		}
		if rows != want {
			t.Errorf("%d rows of %d frames, want %d", rows, len(r.Frames), want)
		}
	}
}
