package main

import (
	"math/rand/v2"
	"slices"

	"leadmark/calib/plan/reach"
)

const knownTrips = 4000 // of which the reach of one who knows the truth is made

// best is the side view's area of the reach of one who knows what is true: the box about many trips
// of which each of the six sides has the same share outside, and 95 % are inside. No line of the
// program makes it.
func (l *loop) best() float64 {
	known := *l
	known.rnd = rand.New(rand.NewPCG(l.seed, 78))
	trips := make([]trip, knownTrips)
	var low, high [3][]float64
	for i := range trips {
		trips[i] = known.trip()
		for axis := range 3 {
			least, most := trips[i].span(axis)
			low[axis], high[axis] = append(low[axis], least), append(high[axis], most)
		}
	}
	for axis := range 3 {
		slices.Sort(low[axis])
		slices.Sort(high[axis])
	}
	out := 0 // trips outside each side
	box := func() reach.Box {
		side := func(axis int) [2]float64 { return [2]float64{low[axis][out], high[axis][knownTrips-1-out]} }
		return reach.Box{Along: side(0), Up: side(1), Depth: side(2)}
	}
	for ; out < knownTrips/20; out++ {
		inside, b := 0, box()
		for _, t := range trips {
			if t.inside(b) {
				inside++
			}
		}
		if inside <= knownTrips*95/100 {
			break
		}
	}
	return area(box())
}

// span is how far a body reaches along an axis.
func (t trip) span(axis int) (least, most float64) {
	least, most = t.corners[0][axis], t.corners[0][axis]
	for _, c := range t.corners {
		least, most = min(least, c[axis]), max(most, c[axis])
	}
	return least, most
}

// area is that of a reach seen from the side.
func area(b reach.Box) float64 { return (b.Along[1] - b.Along[0]) * (b.Up[1] - b.Up[0]) }
