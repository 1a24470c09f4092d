package vision

import (
	"math"
	"os"
	"strconv"
	"sync"
	"testing"

	"leadmark/vision/pixel"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
	"leadmark/vision/synth/photo"
	"leadmark/vision/synth/studies"
)

// TestCodeFromAny30mm shows 30 mm of the coded ruler through a difficult camera: where the reading
// claims to be absolute it must be right. LEADMARK_CODE_VIEWS=10000 runs the long form; with
// LEADMARK_CODE_FIRST=2000 it begins there, so that it can be run in parts.
func TestCodeFromAny30mm(t *testing.T) {
	views, seed := 100, uint64(20260503)
	if text := os.Getenv("LEADMARK_CODE_VIEWS"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil {
			t.Fatal(err)
		}
		views, seed = n, 424242
	}
	from, _ := strconv.Atoi(os.Getenv("LEADMARK_CODE_FIRST"))
	count := map[string]int{}
	var mu sync.Mutex
	var wg sync.WaitGroup
	for w := range 2 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := from + w; i < from+views; i += 2 {
				v := studies.CodeViewAt(seed, uint64(i))
				what := judgeView(v)
				mu.Lock()
				count[what]++
				if what == "wrong" {
					t.Errorf("view %d: %s from %.1f mm: wrong reading", i, v.Classes, 1e3*v.From)
				}
				mu.Unlock()
			}
		}()
	}
	wg.Wait()
	t.Logf("%d views: %v", views, count)
	if count["right"] < views*8/10 {
		t.Errorf("only %d of %d views were read", count["right"], views)
	}
}

// judgeView reads a view: "right", "wrong" where an absolute reading is off by half a graduation or
// more anywhere, else what kept it from being read.
func judgeView(v studies.CodeView) string {
	im, truth := photo.Render(v.Scene)
	r := reading.Interpret(sight(native.Library{}, whole(pixel.GrayOf(im)), ruler.Hint{}), ruler.Spec{})
	switch {
	case r.Status != ruler.StatusRead:
		return r.Reason.Code
	case !r.Absolute:
		return "not absolute"
	}
	if len(truth.Graduations) == 0 {
		return "nothing to compare"
	}
	for _, g := range truth.Graduations {
		if off := r.Scale.Reading(r.Scale.Along(g.PX))*1e3 - g.ReadingMM; !(math.Abs(off) < 0.5) {
			return "wrong"
		}
	}
	return "right"
}

// Ordinary rulers have no code, and their pictures no symbol.
func TestNoCodeOnOrdinaryRulers(t *testing.T) {
	for i, g := range studies.Gallery(11) {
		if i%6 != 0 {
			continue
		}
		im, _ := photo.Render(g.Scene)
		s := sight(native.Library{}, whole(pixel.GrayOf(im)), ruler.Hint{})
		if r := reading.Interpret(s, ruler.Spec{}); r.Coded || s.Symbol.Seen {
			t.Errorf("%s (%s): coded %v, symbol %+v", g.Name, g.Look.Name, r.Coded, s.Symbol)
		}
	}
}
