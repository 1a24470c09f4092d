package main

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"

	"leadmark/calib/words"
	"leadmark/vision/animal"
	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
	"leadmark/vision/subject"
	"leadmark/vision/synth/animals"
)

const (
	framesOfSet = 5
	emptyOfSet  = 2
)

// set looks at the frames of one set.
func (s *study) set(seed uint64) error {
	dir, err := os.MkdirTemp("", "checkstudy")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	w, h := s.width, s.width*2/3
	scene := animals.Set(seed, w, h)
	scene.Seed = seed * 1000
	empty, _, err := drawn(dir, "EMPTY.JPG", scene)
	if err != nil {
		return err
	}
	looker, err := subject.Learn(context.Background(), native.Library{}, nil, &empty)
	if err != nil {
		return err
	}
	hint := subject.Hint{Length: 0.19 * float64(w), Travel: animal.Point{X: 1}}
	look := func(name string, scene animals.Scene) ([]animals.Truth, animal.Sighting, error) {
		f, truth, err := drawn(dir, name, scene)
		if err != nil {
			return nil, animal.Sighting{}, err
		}
		seen, err := looker.Look(context.Background(), f, hint)
		return truth, seen, err
	}
	for i := range framesOfSet {
		name := fmt.Sprintf("%d_%d", seed, i)
		draw := frameOf(scene, seed, i)
		truth, seen, err := look(name, draw)
		if err != nil {
			return err
		}
		s.judge(name, draw, truth, seen)
	}
	for i := range emptyOfSet {
		none := scene
		none.Seed, none.Gain = seed*1000+500+uint64(i), 1+0.05*math.Sin(float64(i)+float64(seed))
		_, seen, err := look(fmt.Sprintf("%d_empty%d", seed, i), none)
		if err != nil {
			return err
		}
		s.empty++
		if len(seen.Found) > 0 {
			s.falseFinds++
			s.say("%d: an animal in empty frame %d", seed, i)
		}
	}
	return nil
}

// frameOf is frame i of a set: one shaken, one cut by the picture's edge, one with two animals.
func frameOf(set animals.Scene, seed uint64, i int) animals.Scene {
	n := 1
	if i == 4 {
		n = 2
	}
	draw := animals.Random(set, seed*1000+uint64(i)+1, n, i == 3)
	if i == 2 { // across the travel, in a frame that is in focus
		r := rand.New(rand.NewPCG(seed, 3))
		a := &draw.Animals[0]
		a.Way = math.Pi/2 + 0.4*(r.Float64()-0.5)
		if r.IntN(2) == 0 {
			a.Way -= math.Pi
		}
		a.Tail, a.Defocus = (3+7*r.Float64())/math.Ln10, min(a.Defocus, 1.2)
	}
	return draw
}

// jpegQuality is about that of a camera's finest.
const jpegQuality = 95

// drawn draws a scene to a file.
func drawn(dir, name string, s animals.Scene) (frame.Frame, []animals.Truth, error) {
	img, truth := animals.Render(s)
	data, err := native.Library{}.EncodeJPEG(img, jpegQuality)
	if err != nil {
		return frame.Frame{}, nil, err
	}
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, data, 0o666); err != nil {
		return frame.Frame{}, nil, err
	}
	f, bad := frame.Open(path)
	if bad != nil {
		return frame.Frame{}, nil, words.Err(bad)
	}
	return f, truth, nil
}
