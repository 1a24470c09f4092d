package subject

import (
	"math"
	"slices"
)

// blob is one connected thing in the mask.
type blob struct {
	x0, y0, x1, y1 int // its box, the far sides not included
	area           int
	label          []bool // over the box
}

func (b *blob) at(x, y int) bool {
	return x >= b.x0 && x < b.x1 && y >= b.y0 && y < b.y1 && b.label[(y-b.y0)*(b.x1-b.x0)+x-b.x0]
}

// blobs lists the connected parts of the mask of at least an area and a share of the largest,
// joined with smaller ones close by: a leg or an antenna whose root is lost in noise.
func (f *difference) blobs(least float64) []*blob {
	var big, small []*blob
	all := f.parts()
	most := 0
	for _, runs := range all {
		most = max(most, pixels(runs))
	}
	for _, runs := range all {
		switch n := float64(pixels(runs)); {
		case n >= max(least, secondAnimal*float64(most)):
			big = append(big, newBlob(runs))
		case n >= max(6, limbPixels*least):
			small = append(small, newBlob(runs))
		}
	}
	slices.SortFunc(big, func(a, b *blob) int { return b.area - a.area })
	for _, s := range small {
		for i, b := range big {
			if gap := b.gap(s); gap < limbGap*math.Sqrt(float64(b.area)) {
				big[i] = b.join(s)
				break
			}
		}
	}
	return big
}

const (
	limbPixels = 0.07 // of an animal's least area, that may be a part of one
	limbGap    = 0.12 // of the root of an animal's area, over which it may be
)

func pixels(runs []run) int {
	n := 0
	for _, r := range runs {
		n += r.x1 - r.x0
	}
	return n
}

// run is a run of pixels of the mask in one row, the far end not included.
type run struct{ y, x0, x1 int }

// parts are the mask's connected parts, corners joining too, as runs from the top down.
func (f *difference) parts() [][]run {
	var all []run
	var parent []int
	root := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	above, here := 0, 0 // the first runs of the row above and of this one
	for y := range f.h {
		above, here = here, len(all)
		k := above
		for x := 0; x < f.w; x++ {
			if f.mask[y*f.w+x] == 0 {
				continue
			}
			r := run{y, x, x + 1}
			for r.x1 < f.w && f.mask[y*f.w+r.x1] != 0 {
				r.x1++
			}
			x = r.x1
			all, parent = append(all, r), append(parent, len(all))
			for k < here && all[k].x1 < r.x0 {
				k++
			}
			for j := k; j < here && all[j].x0 <= r.x1; j++ {
				if all[j].y == y-1 {
					parent[root(len(all)-1)] = root(j)
				}
			}
		}
	}
	index := map[int]int{}
	var parts [][]run
	for i, r := range all {
		k, known := index[root(i)]
		if !known {
			k = len(parts)
			index[root(i)], parts = k, append(parts, nil)
		}
		parts[k] = append(parts[k], r)
	}
	return parts
}

// newBlob is the thing that runs make up.
func newBlob(runs []run) *blob {
	b := &blob{x0: math.MaxInt, y0: runs[0].y, y1: runs[len(runs)-1].y + 1}
	for _, r := range runs {
		b.x0, b.x1 = min(b.x0, r.x0), max(b.x1, r.x1)
	}
	b.area = pixels(runs)
	b.label = make([]bool, (b.x1-b.x0)*(b.y1-b.y0))
	for _, r := range runs {
		row := b.label[(r.y-b.y0)*(b.x1-b.x0):]
		for x := r.x0; x < r.x1; x++ {
			row[x-b.x0] = true
		}
	}
	return b
}

// gap is how far apart the boxes of two things are, px.
func (b *blob) gap(c *blob) float64 {
	dx, dy := max(0, max(b.x0, c.x0)-min(b.x1, c.x1)), max(0, max(b.y0, c.y0)-min(b.y1, c.y1))
	return math.Hypot(float64(dx), float64(dy))
}

func (b *blob) join(c *blob) *blob {
	o := &blob{
		x0: min(b.x0, c.x0), y0: min(b.y0, c.y0), x1: max(b.x1, c.x1), y1: max(b.y1, c.y1),
		area: b.area + c.area,
	}
	o.label = make([]bool, (o.x1-o.x0)*(o.y1-o.y0))
	for y := o.y0; y < o.y1; y++ {
		for x := o.x0; x < o.x1; x++ {
			o.label[(y-o.y0)*(o.x1-o.x0)+x-o.x0] = b.at(x, y) || c.at(x, y)
		}
	}
	return o
}

const secondAnimal = 0.2 // of the first one's area, that counts as another
