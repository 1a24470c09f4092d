package read

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"leadmark/calib/runfile"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// pretended is a frame of a pretended run: where the falling ruler's front end is, px, 0 for none,
// and whether one that lies still is seen.
type pretended struct {
	drop    float64
	at      float64
	lies    bool
	phantom float64 // where something that is no ruler is taken for one, px; 0 for nowhere
	dark    bool
	copyOf  int // 1 + the frame that this file is a copy of; 0: of none
}

// readPretended reads a run of pretended frames and says what became of each.
func readPretended(t *testing.T, list []pretended) Readings {
	t.Helper()
	rnd := rand.New(rand.NewPCG(1, uint64(len(list))))
	run := runfile.Run{Method: runfile.Drop, Travel: runfile.Right, HasShots: true,
		Ruler: runfile.RulerSpec{Graduation: 1e-3, Front: new(0.0)}}
	var folder Folder
	by := map[string]ruler.Sighting{}
	for i, p := range list {
		name := fmt.Sprintf("%03d.jpg", i)
		f := frame.Frame{Name: name, Digest: fmt.Sprintf("picture %d", i)}
		s := ruler.Sighting{Width: 3000, Height: 1000}
		if p.at > 0 && !p.dark {
			s.Rows = append(s.Rows, noisy(rnd, millimetres(p.at)))
		}
		if p.lies {
			lies := noisy(rnd, millimetres(1000))
			lies.Origin.Y, lies.Pitch = 700, 10
			s.Rows = append(s.Rows, lies)
		}
		if p.phantom > 0 {
			wrong := noisy(rnd, millimetres(p.phantom))
			wrong.Origin.Y, wrong.Marks = 450, wrong.Marks[:14]
			s.Rows = append(s.Rows, wrong)
		}
		if s.Refusal.Code = ""; len(s.Rows) == 0 {
			s.Refusal.Code = "no-ruler"
			if p.dark {
				s.Refusal.Code = "dark"
			}
		}
		if p.copyOf > 0 {
			f.Digest = fmt.Sprintf("picture %d", p.copyOf-1)
			s = by[fmt.Sprintf("%03d.jpg", p.copyOf-1)]
		}
		by[name] = s
		folder.Frames = append(folder.Frames, f)
		run.Shots = append(run.Shots, runfile.ShotEntry{Frame: name, Use: true,
			Conditions: runfile.Conditions{Drop: p.drop, Gravity: 9.81}, Stated: runfile.Stated{Drop: true}})
	}
	look := func(_ context.Context, f frame.Frame, h ruler.Hint) (ruler.Sighting, error) {
		return seenNear(by[f.Name], h), nil
	}
	g, err := All(context.Background(), run, folder, Options{Look: look})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// seenNear is what is seen where a hint has rulers looked for.
func seenNear(s ruler.Sighting, h ruler.Hint) ruler.Sighting {
	if h.Near == nil {
		return s
	}
	s.Rows = slices.DeleteFunc(slices.Clone(s.Rows), func(r ruler.Row) bool {
		return math.Abs(h.Near.Distance(r.Origin)) > h.Within
	})
	if len(s.Rows) == 0 && s.Refusal.Code == "" {
		s.Refusal.Code = "no-ruler"
	}
	return s
}

// noisy moves the marks of a row by what a picture's noise does.
func noisy(rnd *rand.Rand, r ruler.Row) ruler.Row {
	for i := range r.Marks {
		r.Marks[i].T += 0.03 * rnd.NormFloat64()
	}
	r.Origin.Y += 0.1 * rnd.NormFloat64()
	return r
}

// heights spreads n frames over some heights; each is seen where at says, a steady rig's.
func heights(n int, at ...float64) []pretended {
	list := make([]pretended, n)
	for i := range list {
		k := i * len(at) / n
		list[i] = pretended{drop: 0.1 * float64(k+1), at: at[k]}
	}
	return list
}

// A rig so steady that its drops end in the same place is no ruler that lies still, whether or not
// heights differ by whole graduations, in short runs and long ones; one that does lie still is left
// out beside it, and where it is all that can be seen the frame is refused.
func TestASteadyRigIsNoStillRuler(t *testing.T) {
	with := func(list []pretended, change func(i int, p *pretended)) []pretended {
		for i := range list {
			change(i, &list[i])
		}
		return list
	}
	spread := rand.New(rand.NewPCG(7, 7))
	for name, c := range map[string]struct {
		list []pretended
		lost func(i int) bool // frames that may be refused; nil: none
	}{
		"one height, 6":       {heights(6, 900), nil},
		"one height, 40":      {heights(40, 900), nil},
		"two heights, 6":      {heights(6, 900, 1213.4), nil},
		"two heights, 40":     {heights(40, 900, 1213.4), nil},
		"four heights, 40":    {heights(40, 800, 913.4, 1071.3, 1240.6), nil},
		"a graduation apart":  {heights(40, 900, 910, 930, 950), nil},
		"ten of them apart":   {heights(40, 900, 1000, 1200, 1300), nil},
		"half a pixel spread": {with(heights(40, 900, 1213.4), func(_ int, p *pretended) { p.at += spread.Float64() }), nil},
		"beside one": {with(heights(40, 800, 913.4, 1071.3, 1240.6), func(_ int, p *pretended) { p.lies = true }),
			nil},
		"beside one, 6":    {with(heights(6, 900, 1213.4), func(_ int, p *pretended) { p.lies = true }), nil},
		"beside one, half": {with(heights(40, 900, 1213.4), func(i int, p *pretended) { p.lies = i%2 == 0 }), nil},
		"beside one, some": {with(heights(40, 800, 913.4, 1071.3, 1240.6), func(i int, p *pretended) { p.lies = i%5 == 0 }),
			nil},
		"it alone in some": {with(heights(40, 800, 913.4, 1071.3, 1240.6), func(i int, p *pretended) {
			if p.lies = true; i%8 == 3 {
				p.at = 0
			}
		}), func(i int) bool { return i%8 == 3 }},
		"the flash failed in some": {with(heights(40, 900, 1213.4), func(i int, p *pretended) {
			p.lies = i%8 == 3
			p.dark = p.lies
		}), func(i int) bool { return i%8 == 3 }},
		"it alone in all": {with(heights(40, 0, 0), func(_ int, p *pretended) { p.lies = true }),
			func(int) bool { return true }},
		"it alone in all, 6": {with(heights(6, 0, 0), func(_ int, p *pretended) { p.lies = true }),
			func(int) bool { return true }},
		"one height, one listed under another": {with(heights(6, 900), func(i int, p *pretended) {
			if i == 3 {
				p.drop = 0.2
			}
		}), nil},
		"some listed under a wrong height": {with(heights(40, 900, 1213.4), func(i int, p *pretended) {
			if i == 3 || i == 12 {
				p.drop = 0.2
			}
		}), nil},
		"phantoms beside it": {with(heights(40, 900), func(i int, p *pretended) {
			if i%9 == 4 {
				p.phantom = 700 + 13.7*float64(i)
			}
		}), func(i int) bool { return i%9 == 4 }},
		"copies of one picture": {with(heights(40, 800, 913.4, 1071.3, 1240.6), func(i int, p *pretended) {
			if p.at += 20 * spread.Float64(); i%10 > 0 && i%10 < 6 {
				p.copyOf = 1 + i - i%10
			}
		}), nil},
		"copies under other heights": {with(heights(12, 800, 913.4, 1071.3, 1240.6), func(i int, p *pretended) {
			if p.at += 20 * spread.Float64(); i > 6 {
				p.copyOf = 1
			}
		}), nil},
	} {
		t.Run(name, func(t *testing.T) {
			g, lost, kept := readPretended(t, c.list), 0, 0
			why := map[string]int{}
			for i, r := range g.list {
				gone := c.lost != nil && c.lost(i)
				switch {
				case !gone && (r.Status != ruler.StatusRead || r.Scale.Origin.Y > 400):
					lost++
					why[r.Reason.Code+"/"+r.Reason.Case]++
				case gone && r.Status == ruler.StatusRead && (c.list[i].at == 0 || c.list[i].dark):
					kept++
				}
			}
			if lost > 0 || kept > 0 {
				t.Errorf("%d of %d good frames lost (%v), %d read off a ruler that lies still", lost, len(g.list),
					why, kept)
			}
		})
	}
}
