package read

import (
	"leadmark/calib/read/cache"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// atHand is how many sightings are kept at hand.
const atHand = 200

// sightings are what was seen in the frames of a run, side by side with them. A sighting takes tens
// of kilobytes: those of a few frames are kept at hand, the others are fetched from the run's cache
// when they are asked for, so that a run of thousands needs no more room for them than one of
// hundreds. They may be asked for by several goroutines, but set by one at a time.
type sightings struct {
	cache *cache.Cache                             // nil: all are kept at hand
	again func(i int, h ruler.Hint) ruler.Sighting // looks at a frame of which the cache lost what was seen
	brief []brief
	whole map[int]ruler.Sighting
}

// brief is what is always known of a sighting.
type brief struct {
	rows    bool   // there are some
	refusal string // the refusal's code
	symbol  ruler.Symbol
	entry   string      // of the cache; "" where the sighting is at hand
	hint    *ruler.Hint // under which the cache has it
}

func newSightings(n int, c *cache.Cache, again func(i int, h ruler.Hint) ruler.Sighting) *sightings {
	return &sightings{cache: c, again: again, brief: make([]brief, n), whole: map[int]ruler.Sighting{}}
}

// saw takes in what was seen in a frame under a hint.
func (v *sightings) saw(i int, f frame.Frame, h *ruler.Hint, s ruler.Sighting) {
	if _, is := v.whole[i]; !is && len(v.whole) >= atHand {
		if entry, kept := v.cache.EntryOf(f, *h); kept {
			v.brief[i] = briefly(s)
			v.brief[i].entry, v.brief[i].hint = entry, h
			return
		}
	}
	v.put(i, s)
}

// put has a sighting stand in the place of what was seen.
func (v *sightings) put(i int, s ruler.Sighting) {
	v.whole[i], v.brief[i] = s, briefly(s)
}

func briefly(s ruler.Sighting) brief {
	return brief{rows: len(s.Rows) > 0, refusal: s.Refusal.Code, symbol: s.Symbol}
}

// of returns what was seen in a frame; the zero Sighting where it was not looked at.
func (v *sightings) of(i int) ruler.Sighting {
	if v.brief[i].entry == "" {
		return v.whole[i]
	}
	s, err := v.cache.Fetch(v.brief[i].entry)
	if err != nil {
		return v.again(i, *v.brief[i].hint)
	}
	return s
}
