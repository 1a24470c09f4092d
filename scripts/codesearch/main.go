// Command codesearch finds the sequence of dark and light cells of the coded ruler
// (vision/ruler/coded/sequence.go), for developers: bit by bit, at random, going back a random stretch
// wherever the next cell would break a rule.
//
//	go run ./scripts/codesearch
package main

import (
	"flag"
	"fmt"
	"math/bits"
	"math/rand/v2"
)

const (
	window   = 29 // whole cells in any 30 mm
	tens     = 10 // cells between the longest graduations
	most     = 4  // cells of one tone in a row: both tones stay near for comparison
	flicker  = 5  // cells of alternating tone in a row: no rival pitch of 2 mm
	unevenly = 3  // dark cells of a window more or fewer than half
)

// search holds the sequence so far; forward and backward are its windows by their first cell, read
// either way.
type search struct {
	far, farSame      int // least distance of two windows; of two whose graduations look alike
	rnd               *rand.Rand
	cells             []uint64
	forward, backward []uint64
}

func main() {
	n := flag.Int("n", 800, "cells")
	far := flag.Int("far", 6, "least distance between any two windows, in either sense")
	same := flag.Int("same", 8, "least distance between two windows with their long graduations in the same places")
	seed := flag.Uint64("seed", 1, "seed")
	flag.Parse()
	s := search{far: *far, farSame: *same, rnd: rand.New(rand.NewPCG(*seed, 1))}
	for len(s.cells) < *n {
		c := uint64(s.rnd.IntN(2))
		if s.add(c) || s.add(1-c) {
			continue
		}
		for back := 1 + int(12*s.rnd.ExpFloat64()); back > 0 && len(s.cells) > 0; back-- {
			s.drop()
		}
	}
	for i := 0; i+3 < len(s.cells); i += 4 {
		fmt.Printf("%x", s.cells[i]<<3|s.cells[i+1]<<2|s.cells[i+2]<<1|s.cells[i+3])
	}
	fmt.Println()
}

// add appends a cell unless that breaks a rule.
func (s *search) add(c uint64) bool {
	if s.run(c, false) > most || s.run(c, true) > flicker {
		return false
	}
	s.cells = append(s.cells, c)
	if len(s.cells) < window || s.keep() {
		return true
	}
	s.cells = s.cells[:len(s.cells)-1]
	return false
}

// run is how many cells at the end, with c added, are of one tone, or alternate.
func (s *search) run(c uint64, alternate bool) int {
	n := 1
	for i := len(s.cells) - 1; i >= 0 && (s.cells[i] != c) == alternate; i-- {
		c = s.cells[i]
		n++
	}
	return n
}

// keep files the last window if it is far enough from all others.
func (s *search) keep() bool {
	first := len(s.cells) - window
	var f, b uint64
	for k := range window {
		f = f<<1 | s.cells[first+k]
		b = b<<1 | s.cells[len(s.cells)-1-k]
	}
	if n := bits.OnesCount64(f); n < window/2-unevenly || n > window-window/2+unevenly {
		return false
	}
	if bits.OnesCount64(f^b) < s.far {
		return false
	}
	for j := range s.forward {
		if !s.apart(f^s.forward[j], first-j) || !s.apart(f^s.backward[j], first+j+window) {
			return false
		}
	}
	s.forward, s.backward = append(s.forward, f), append(s.backward, b)
	return true
}

// apart judges the difference of two windows whose graduations are shifted by so many cells.
func (s *search) apart(difference uint64, shift int) bool {
	d := bits.OnesCount64(difference)
	return d >= s.far && (d >= s.farSame || shift%tens != 0)
}

func (s *search) drop() {
	s.cells = s.cells[:len(s.cells)-1]
	if n := len(s.forward); n > 0 {
		s.forward, s.backward = s.forward[:n-1], s.backward[:n-1]
	}
}
