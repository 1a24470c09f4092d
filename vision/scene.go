package vision

import (
	"context"
	"errors"
	"fmt"
	"image"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"leadmark/fit"
	"leadmark/vision/animal"
	"leadmark/vision/frame"
	"leadmark/vision/pixel"
)

const (
	sceneFrames = 15 // of a run that the empty set is learned from
	fewestScene = 5  // frames without which it cannot be told from the run
)

// Scene is the empty set, as animals are told apart from it.
type Scene struct {
	k       int // a pixel stands for k x k of the picture
	w, h    int // of the picture
	back    *pixel.Colour
	learned bool // from the run, not from an empty frame
	memory  *pixel.Decoder
	spare   sync.Pool // of differences, whose memory is used again
}

// SceneLooker looks for animals before one set.
type SceneLooker struct{ scene *Scene }

// LearnScene learns the empty set from a frame of it or, where there is none, from the run of frames: at each place the tone
// that most frames agree on. Fewer than five frames of one size without an empty one are an error.
func LearnScene(ctx context.Context, l pixel.Library, frames []frame.Frame, empty *frame.Frame) (*SceneLooker, error) {
	m := &pixel.Decoder{Library: l}
	if empty != nil {
		c, size, err := reduced(m, *empty)
		if err != nil {
			return nil, fmt.Errorf("the frame of the empty set, %s: %w", empty.Name, err)
		}
		return newLooker(c, size, false, m), nil
	}
	frames = ofUsualSize(frames)
	all := make([]*pixel.Colour, min(len(frames), sceneFrames))
	each(len(all), func(i int) {
		defer pixel.Guard(func(error) {}) // it is met again, and said, when the frame's turn comes
		if ctx.Err() == nil {
			f := frames[i*len(frames)/len(all)]
			if c, size, err := reduced(m, f); err == nil && size == image.Pt(f.Width, f.Height) {
				all[i] = c
			} // what cannot be read is refused with its reason when its turn comes
		}
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	all = slices.DeleteFunc(all, func(c *pixel.Colour) bool { return c == nil })
	if len(all) < fewestScene {
		return nil, fmt.Errorf("the empty set cannot be told from %d frames of one size\nhint: photograph the set without an animal and name that frame in shoot.toml: empty = \"IMG_9000.JPG\"", len(all))
	}
	return newLooker(agreed(all), image.Pt(frames[0].Width, frames[0].Height), true, m), nil
}

func newLooker(back *pixel.Colour, size image.Point, learned bool, m *pixel.Decoder) *SceneLooker {
	return &SceneLooker{&Scene{k: pixel.FindingScale(size.X, size.Y), w: size.X, h: size.Y, back: back, learned: learned, memory: m}}
}

// reduced decodes a frame as small as animals are looked for in, and tells its whole size.
func reduced(m *pixel.Decoder, f frame.Frame) (*pixel.Colour, image.Point, error) {
	p, err := m.Open(f)
	if err != nil {
		return nil, image.Point{}, err
	}
	defer p.Close()
	size := p.Size()
	c := p.Small()
	return &pixel.Colour{W: c.W, H: c.H, Pix: slices.Clone(c.Pix)}, size, nil
}

// ofUsualSize are the frames of the size that most have.
func ofUsualSize(frames []frame.Frame) []frame.Frame {
	count := map[image.Point]int{}
	var usual image.Point
	for _, f := range frames {
		size := image.Pt(f.Width, f.Height)
		if count[size]++; count[size] > count[usual] {
			usual = size
		}
	}
	return slices.DeleteFunc(slices.Clone(frames), func(f frame.Frame) bool { return f.Width != usual.X || f.Height != usual.Y })
}

// each calls do for 0 to n - 1 on all cores.
func each(n int, do func(i int)) {
	var wait sync.WaitGroup
	var next atomic.Int64
	for range min(n, runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	wait.Wait()
}

// agreed is, at each pixel, the mean of the frames in the shortest range of brightness that holds two fifths of them: the set
// is the same in all, what an animal shows there differs.
func agreed(all []*pixel.Colour) *pixel.Colour {
	levelled(all)
	o := pixel.NewColour(all[0].W, all[0].H)
	n := len(all)
	need := max(3, 2*n/5)
	type tone struct {
		y int32
		i int32
	}
	order := make([]tone, n)
	for p := range o.W * o.H {
		for i, c := range all {
			q := c.Pix[3*p : 3*p+3 : 3*p+3]
			order[i] = tone{int32(q[0])*3 + int32(q[1])*5 + int32(q[2])*4, int32(i)}
		}
		for i := 1; i < n; i++ {
			for j := i; j > 0 && order[j].y < order[j-1].y; j-- {
				order[j], order[j-1] = order[j-1], order[j]
			}
		}
		best := 0
		for a := 1; a+need <= n; a++ {
			if order[a+need-1].y-order[a].y < order[best+need-1].y-order[best].y {
				best = a
			}
		}
		var s [3]int
		for _, t := range order[best : best+need] {
			for c := range s {
				s[c] += int(all[t.i].Pix[3*p+c])
			}
		}
		for c := range s {
			o.Pix[3*p+c] = uint8((s[c] + need/2) / need)
		}
	}
	return o
}

// levelled takes the flash's differences from frame to frame out of the pictures.
func levelled(all []*pixel.Colour) {
	ref := all[len(all)/2]
	for _, c := range all {
		if c != ref {
			g := gains(ref, c)
			for k := range g {
				g[k] = 1 / g[k]
			}
			t := toneTables(g)
			for i := range c.Pix {
				c.Pix[i] = t[i%3][c.Pix[i]]
			}
		}
	}
}

// gains are by how much the light of a picture is the set's, by channel: the median over pixels that are not dark, told in
// the medians of three channels where one is too dark to tell.
func gains(back, c *pixel.Colour) [3]float64 {
	var g [3]float64
	known := 1.0
	step := 3 * (1 + len(back.Pix)/3/20000)
	var list []float64
	for k := range g {
		list = list[:0]
		for i := k; i < len(back.Pix); i += step {
			if b := back.Pix[i]; b > 40 && b < 250 && c.Pix[i] < 250 {
				list = append(list, pixel.Light(c.Pix[i])/pixel.Light(b))
			}
		}
		if len(list) > 200 {
			g[k] = max(0.25, min(4, fit.Median(list)))
			known = g[k]
		}
	}
	for k := range g {
		if g[k] == 0 {
			g[k] = known
		}
	}
	return g
}

// toneTables turn tones into those in light so many times as strong.
func toneTables(g [3]float64) (t [3][256]uint8) {
	for k := range t {
		for v := range 256 {
			t[k][v] = pixel.Tone(pixel.Light(uint8(v)) * g[k])
		}
	}
	return t
}

// AnimalHint is what is known before looking.
type AnimalHint struct {
	Length float64      // px, about, of a body; 0 where unknown
	Travel animal.Point // unit vector of the travel in the picture
}

// Look finds the animals in one picture. What keeps it from being looked at is said in the Sighting's Refusal; an error means
// that the search was broken off.
func (l *SceneLooker) Look(ctx context.Context, f frame.Frame, h AnimalHint) (seen animal.Sighting, err error) {
	if err := ctx.Err(); err != nil {
		return animal.Sighting{}, err
	}
	s := l.scene
	refuse := func(code, text string) (animal.Sighting, error) {
		return animal.Sighting{Width: f.Width, Height: f.Height, Refusal: animal.Reason{Code: code, Text: text}}, nil
	}
	defer pixel.Guard(func(fault error) { seen, err = refuse("program-fault", fault.Error()) })
	if f.Width != s.w || f.Height != s.h {
		return refuse("other-size", fmt.Sprintf("the picture is %d x %d px, the set's %d x %d: it is of another camera, or was cropped", f.Width, f.Height, s.w, s.h))
	}
	p, err := s.memory.Open(f)
	if gone := (*frame.Refusal)(nil); errors.As(err, &gone) {
		return refuse(gone.Code, gone.Text)
	}
	if err != nil {
		return refuse("unreadable", err.Error())
	}
	defer p.Close()
	found, err := s.find(p, h)
	if err != nil {
		return refuse("unreadable", err.Error())
	}
	return found, nil
}

// Learned says whether the empty set was told from the run.
func (l *SceneLooker) Learned() bool { return l.scene.learned }
