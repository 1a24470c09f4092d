package subject

import (
	"fmt"
	"math"

	"leadmark/calib/input"
)

// Course is where the part that breaks the beam is at times after the trip, on a heading straight
// along: straight lines between the points. The first point is the trip itself.
type Course struct {
	Time, Along, Up []float64 // s, m, m
	dir             [][2]float64
}

// ParseCourse reads a table of time_ms,along_mm[,up_mm] from the trip on.
func ParseCourse(name string, text []byte) (Course, error) {
	t, err := input.ReadTable(name, text, []string{"time_ms", "along_mm", "up_mm"},
		[]string{"time_ms", "along_mm"})
	if err != nil {
		return Course{}, err
	}
	var c Course
	var wrong input.List
	for _, row := range t.Rows {
		var p [3]float64
		for i, column := range []string{"time_ms", "along_mm", "up_mm"} {
			limits := input.Between(-1e5, 1e5)
			if i == 0 {
				limits = input.Between(0, 1e5)
			}
			if f := t.Number(row, column, 1e-3, limits, &p[i]); f != nil {
				wrong.Add(f)
			} else if i < 2 && t.Cell(row, column) == "" {
				wrong.Add(t.Fault(row, column, "is empty",
					"give the time and the place along, and the height where it changes"))
			}
		}
		if n := len(c.Time); n > 0 && p[0] <= c.Time[n-1] {
			wrong.Add(t.Fault(row, "time_ms", "does not come after the line before it",
				"sort the course by time"))
		}
		c.Time, c.Along, c.Up = append(c.Time, p[0]), append(c.Along, p[1]), append(c.Up, p[2])
	}
	if err := wrong.Err(name); err != nil {
		return Course{}, err
	}
	return c, c.check(name)
}

func (c *Course) check(name string) error {
	switch {
	case len(c.Time) < 2:
		return &input.Error{File: name,
			What: fmt.Sprintf("has %d lines; a course needs two or more", len(c.Time))}
	case c.Time[0] != 0 || c.Along[0] != 0 || c.Up[0] != 0:
		return &input.Error{File: name, Line: 2,
			What: "does not begin with 0,0: the course counts from the trip",
			Hint: "take the time and the place of the trip off every line"}
	}
	return c.headings(name)
}

// headings notes where the body points in each piece; where it rests it points where it went last.
func (c *Course) headings(name string) error {
	c.dir = make([][2]float64, len(c.Time)-1)
	first := -1
	for i := range c.dir {
		dx, dy := c.Along[i+1]-c.Along[i], c.Up[i+1]-c.Up[i]
		switch l := math.Hypot(dx, dy); {
		case l > 0:
			c.dir[i] = [2]float64{dx / l, dy / l}
			if first < 0 {
				first = i
			}
		case i > 0:
			c.dir[i] = c.dir[i-1]
		}
	}
	if first < 0 {
		return &input.Error{File: name, What: "never leaves the trip point"}
	}
	for i := range first {
		c.dir[i] = c.dir[first]
	}
	return nil
}

// End is the time of the last point.
func (c *Course) End() float64 { return c.Time[len(c.Time)-1] }

// At is place, heading and speed at a time after the trip. Past its end the course goes on as in
// its last piece; Make refuses a course that ends too early.
func (c *Course) At(t float64) (along, up float64, dir [2]float64, speed float64) {
	lo, hi := 0, len(c.Time)-2
	for lo < hi {
		if mid := (lo + hi + 1) / 2; c.Time[mid] <= t {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	dt := c.Time[lo+1] - c.Time[lo]
	vx, vy := (c.Along[lo+1]-c.Along[lo])/dt, (c.Up[lo+1]-c.Up[lo])/dt
	s := t - c.Time[lo]
	return c.Along[lo] + vx*s, c.Up[lo] + vy*s, c.dir[lo], math.Hypot(vx, vy)
}
