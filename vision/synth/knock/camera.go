package knock

import "math"

// vec is a point or a direction of space.
type vec [3]float64

func (a vec) add(b vec) vec { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

// turn is a rotation, row by row.
type turn [3]vec

func (r turn) of(v vec) (out vec) {
	for i := range r {
		out[i] = r[i][0]*v[0] + r[i][1]*v[1] + r[i][2]*v[2]
	}
	return out
}

func (r turn) back(v vec) (out vec) {
	for i := range r {
		out[i] = r[0][i]*v[0] + r[1][i]*v[1] + r[2][i]*v[2]
	}
	return out
}

// about is a rotation by the length of a vector, rad, about its direction (Rodrigues' formula).
func about(w vec) turn {
	t := math.Sqrt(w[0]*w[0] + w[1]*w[1] + w[2]*w[2])
	if t == 0 {
		return turn{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	}
	x, y, z := w[0]/t, w[1]/t, w[2]/t
	s, c := math.Sincos(t)
	d := 1 - c
	return turn{
		{c + x*x*d, x*y*d - z*s, x*z*d + y*s},
		{y*x*d + z*s, c + y*y*d, y*z*d - x*s},
		{z*x*d - y*s, z*y*d + x*s, c + z*z*d},
	}
}

// Move is what was done to the camera.
type Move struct {
	Pan, Tilt, Roll float64    // rad, about the head
	Behind, Below   float64    // m, how far behind and below the lens the head is
	Carried         [3]float64 // m, right, down, ahead, without a turn
}

// camera is where the lens is, and how it looks.
type camera struct {
	w, h  int
	focal float64 // px
	at    vec
	turn  turn // of the camera's axes into space
}

// moved is the camera that looked straight ahead from the origin, turned about its head.
func (c camera) moved(m Move) camera {
	head := vec{0, m.Below, -m.Behind}
	c.turn = about(vec{m.Tilt, m.Pan, m.Roll})
	c.at = head.add(c.turn.of(vec{-head[0], -head[1], -head[2]})).add(m.Carried)
	return c
}

// hits is where the ray through a place of the picture meets the plane at depth z.
func (c camera) hits(px, py, z float64) (x, y float64) {
	d := c.turn.of(vec{(px - float64(c.w-1)/2) / c.focal, (py - float64(c.h-1)/2) / c.focal, 1})
	k := (z - c.at[2]) / d[2]
	return c.at[0] + k*d[0], c.at[1] + k*d[1]
}

// shows is where a point of space lies in the picture.
func (c camera) shows(p vec) (px, py float64) {
	q := c.turn.back(vec{p[0] - c.at[0], p[1] - c.at[1], p[2] - c.at[2]})
	return float64(c.w-1)/2 + c.focal*q[0]/q[2], float64(c.h-1)/2 + c.focal*q[1]/q[2]
}
