package main

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"

	"leadmark/scripts/drawn"
	"leadmark/vision/animal"
	"leadmark/vision/pixel/native"
	"leadmark/vision/subject"
	"leadmark/vision/synth/animals"
)

const (
	framesOfSet = 5
	emptyOfSet  = 2
)

// set is the frames before one empty set.
type set struct {
	dir    string
	seed   uint64
	scene  animals.Scene
	length float64 // px, about, of a body
	finder *subject.Finder
}

// newSet draws the empty set and learns it.
func newSet(dir string, seed uint64, scene animals.Scene, length float64) (*set, error) {
	scene.Seed = seed * 1000
	s := &set{dir: dir, seed: seed, scene: scene, length: length}
	empty, _, err := drawn.Animals(filepath.Join(dir, "EMPTY.JPG"), scene)
	if err != nil {
		return nil, err
	}
	s.finder, err = subject.Learn(context.Background(), native.Library{}, nil, &empty)
	return s, err
}

// usual looks at the frames of one set: animals on their way, and no animals.
func usual(dir string, seed uint64, width int) (results, error) {
	s, err := newSet(dir, seed, animals.Set(seed, width, width*2/3), 0.19*float64(width))
	if err != nil {
		return results{}, err
	}
	var r results
	for i := range framesOfSet {
		name := fmt.Sprintf("%d_%d", seed, i)
		draw := frameOf(s.scene, seed, i)
		truth, seen, err := s.look(name, draw)
		if err != nil {
			r.fail(name, err)
		}
		r.frames = append(r.frames, judge(name, draw, truth, s.length, seen))
	}
	for i := range emptyOfSet {
		none := s.scene
		none.Seed, none.Gain = seed*1000+500+uint64(i), 1+0.05*math.Sin(float64(i)+float64(seed))
		name := fmt.Sprintf("%d_empty%d", seed, i)
		_, seen, err := s.look(name, none)
		if err != nil {
			r.fail(name, err)
		}
		r.empty++
		if err != nil || len(seen.Found) > 0 || seen.Refusal.Code != "" {
			r.notEmpty++
		}
	}
	return r, nil
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

// Size of the pictures of which each has one blur alone: so wide that the print decides what counts
// as sharp, and low, as they take long to draw.
const (
	wide, low  = 4000, 1000
	wideAnimal = 640.0 // px
	wideSharp  = 3.2   // px: 0.2 mm where 4000 px are 250 mm
)

// alone looks at frames that one blur alone makes unsharp, clearly, or leaves sharp, clearly: what is
// true of them needs no formula.
func alone(dir string, seed uint64) (results, error) {
	s, err := newSet(dir, seed, animals.Set(seed, wide, low), wideAnimal)
	if err != nil {
		return results{}, err
	}
	rnd := rand.New(rand.NewPCG(seed, 4))
	over := func() float64 { return wideSharp * (1.5 + 1.0*rnd.Float64()) }
	under := func() float64 { return wideSharp * (0.5 + 0.2*rnd.Float64()) }
	var r results
	for i, c := range []struct {
		cause                string
		defocus, motion, way float64
	}{
		{"focus", over() / 2.563, 0, 0},
		{"motion", 0.5, over(), 0.5 * (rnd.Float64() - 0.5)},
		{"shake", 0.5, over(), math.Pi/2 + 0.5*(rnd.Float64()-0.5)},
		{"", under() / 2.563, 0, 0},
		{"", 0.5, under(), 0.5 * (rnd.Float64() - 0.5)},
	} {
		draw := s.scene
		draw.Seed = seed*1000 + 100 + uint64(i)
		draw.Animals = []animals.Animal{{Kind: animals.Kind(rnd.IntN(3)), Length: wideAnimal * (0.8 + 0.4*rnd.Float64()),
			Nose:    [2]float64{wide * (0.4 + 0.4*rnd.Float64()), low * (0.45 + 0.1*rnd.Float64())},
			Heading: 0.3 * rnd.NormFloat64(), Way: c.way, Defocus: c.defocus, Tail: c.motion / 2.302585, Seed: rnd.Uint32()}}
		name := fmt.Sprintf("%d_alone%d", seed, i)
		truth, seen, err := s.look(name, draw)
		if err != nil {
			r.fail(name, err)
		}
		o := judge(name, draw, truth, s.length, seen)
		o.expect(c.cause)
		r.alone = append(r.alone, o)
	}
	return r, nil
}

// look draws a scene and looks at it as leadmark check does.
func (s *set) look(name string, scene animals.Scene) ([]animals.Truth, animal.Sighting, error) {
	f, truth, err := drawn.Animals(filepath.Join(s.dir, name), scene)
	if err != nil {
		return truth, animal.Sighting{}, err
	}
	seen, err := s.finder.Look(context.Background(), f,
		subject.Hint{Length: s.length, Travel: animal.Point{X: 1}})
	return truth, seen, err
}
