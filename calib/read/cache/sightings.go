package cache

import (
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// Sightings are what was seen in the frames of a run, side by side with them. A sighting takes tens
// of kilobytes: those of a few frames are kept at hand, the others are fetched from the run's cache
// when they are asked for, so that a run of thousands needs no more room for them than one of
// hundreds. They may be asked for by several goroutines, but set by one at a time.
type Sightings struct {
	cache *Cache                                   // nil: all are kept at hand
	again func(i int, h ruler.Hint) ruler.Sighting // looks at a frame of which the cache lost what was seen
	brief []Brief
	whole map[int]ruler.Sighting
}

// Brief is what is always known of a sighting.
type Brief struct {
	Rows    bool   // there are some
	Refusal string // the refusal's code
	Symbol  ruler.Symbol

	entry string      // of the cache; "" where the sighting is at hand
	hint  *ruler.Hint // under which the cache has it
}

// NewSightings has room for n frames; again looks once more at one of which the cache c lost what was
// seen, and nothing is fetched where c is nil.
func NewSightings(n int, c *Cache, again func(i int, h ruler.Hint) ruler.Sighting) *Sightings {
	return &Sightings{cache: c, again: again, brief: make([]Brief, n), whole: map[int]ruler.Sighting{}}
}

// Saw takes in what was seen in a frame under a hint.
func (v *Sightings) Saw(i int, f frame.Frame, h *ruler.Hint, s ruler.Sighting) {
	if _, is := v.whole[i]; !is && len(v.whole) >= atHand {
		if entry, kept := v.cache.entryOf(f, *h); kept {
			v.brief[i] = briefly(s)
			v.brief[i].entry, v.brief[i].hint = entry, h
			return
		}
	}
	v.Put(i, s)
}

// Put has a sighting stand in the place of what was seen.
func (v *Sightings) Put(i int, s ruler.Sighting) {
	v.whole[i], v.brief[i] = s, briefly(s)
}

func briefly(s ruler.Sighting) Brief {
	return Brief{Rows: len(s.Rows) > 0, Refusal: s.Refusal.Code, Symbol: s.Symbol}
}

// Of returns what was seen in a frame; the zero Sighting where it was not looked at.
func (v *Sightings) Of(i int) ruler.Sighting {
	if v.brief[i].entry == "" {
		return v.whole[i]
	}
	s, err := v.cache.fetch(v.brief[i].entry)
	if err != nil {
		return v.again(i, *v.brief[i].hint)
	}
	return s
}

// Brief is what is always known of what was seen in a frame.
func (v *Sightings) Brief(i int) Brief { return v.brief[i] }
