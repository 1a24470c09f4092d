package plan

import (
	"fmt"

	"leadmark/calib/input"
	"leadmark/calib/plan/reach"
	"leadmark/calib/rig"
)

// Framing is how the picture must be framed to hold the reach.
type Framing struct {
	Sensor           [2]float64 // m, as the camera is held: along, up
	Portrait         bool
	Field            [2]float64 // m, what the picture shows in the plane in focus
	Aim              [2]float64 // m, along and up: the middle of the picture
	Optics           Optics     // without an f-number
	Limited          bool       // the lens gives no smaller field, or it was stated
	MaxMagnification float64    // of the lens; 0 where unknown
	Shortened        bool       // the closest focus is nearer than the focal length allows: 1:1 is taken
	Fill             float64    // body's length over the field's, the mean body seen from the side
}

// needs of framing that rig.toml may lack.
func framingLacks(p rig.Profile) []string {
	var lacks []string
	if p.Camera.Sensor == [2]float64{} {
		lacks = append(lacks, "sensor_mm in [camera]")
	}
	if p.Lens.Focal == 0 {
		lacks = append(lacks, "focal_mm in [lens]")
	}
	return lacks
}

// Orientation is how the camera is held.
func (f Framing) Orientation() string {
	if f.Portrait {
		return Portrait
	}
	return Landscape
}

// frame finds the smallest field that holds a box, in the orientation that needs the lesser one.
func frame(r reach.Box, p rig.Profile, o Options) (Framing, error) {
	long, short := max(p.Camera.Sensor[0], p.Camera.Sensor[1]),
		min(p.Camera.Sensor[0], p.Camera.Sensor[1])
	wide, high := framed(r, p.Lens, [2]float64{long, short}),
		framed(r, p.Lens, [2]float64{short, long})
	high.Portrait = true
	f := wide
	if o.Orientation == Portrait || o.Orientation == "" &&
		high.Field[0]*high.Field[1] < 0.98*wide.Field[0]*wide.Field[1] {
		f = high
	}
	f.lensLimit(p.Lens)
	if o.Field > 0 {
		return f, f.stated(o.Field)
	}
	if f.MaxMagnification > 0 && f.Optics.Magnification > f.MaxMagnification {
		f.widen(f.MaxMagnification)
		f.Limited = true
	}
	return f, nil
}

// framed is the field of a sensor's shape that holds the box's nearest face, where the field is
// smallest: seen from the entrance pupil at u it is (u - z)/u of that in the plane in focus.
func framed(r reach.Box, l rig.Lens, sensor [2]float64) Framing {
	f := Framing{Sensor: sensor, Optics: Optics{Focal: l.Focal, Pupil: pupil(l)}}
	f.Aim = [2]float64{(r.Along[0] + r.Along[1]) / 2, (r.Up[0] + r.Up[1]) / 2}
	// field over sensor, 1/m
	scale := max((r.Along[1]-r.Along[0])/sensor[0], (r.Up[1]-r.Up[0])/sensor[1])
	m := 1 / scale
	for range 50 {
		u := Optics{Focal: l.Focal, Pupil: pupil(l), Magnification: m}.PupilDistance()
		m = 1 / (scale * u / max(u-r.Depth[1], u/100))
	}
	f.widen(m)
	return f
}

// widen sets the magnification and with it the field.
func (f *Framing) widen(m float64) {
	f.Optics.Magnification = m
	f.Field = [2]float64{f.Sensor[0] / m, f.Sensor[1] / m}
}

func pupil(l rig.Lens) float64 {
	if l.PupilMagnification > 0 {
		return l.PupilMagnification
	}
	return 1
}

// lensLimit finds the largest magnification: the stated one, else that of a thin lens at its
// closest focus. A lens that focuses nearer than four focal lengths shortens its focal length to do
// so; then 1:1 is taken and said.
func (f *Framing) lensLimit(l rig.Lens) {
	switch m, ok := magnificationAt(l.Focal, l.Closest); {
	case l.MaxMagnification > 0:
		f.MaxMagnification = l.MaxMagnification
	case l.Closest == 0:
	case ok:
		f.MaxMagnification = m
	default:
		f.MaxMagnification, f.Shortened = 1, true
	}
}

// stated takes a field that a person asks for, by its width.
func (f *Framing) stated(width float64) error {
	m := f.Sensor[0] / width
	if f.MaxMagnification > 0 && m > f.MaxMagnification*1.0001 {
		return &input.Error{File: "--field-mm",
			What: fmt.Sprintf("is %g; this lens gives no field narrower than %.3g mm, at its closest focus",
				width*1e3, f.Sensor[0]/f.MaxMagnification*1e3),
			Hint: "ask for a wider field, or put a lens on that goes closer"}
	}
	f.widen(m)
	f.Limited = true
	return nil
}

// window is a frame in the plane in focus and the pupil it is seen from.
type window struct{ left, right, bottom, top, u float64 }

func (f Framing) window() window {
	return window{f.Aim[0] - f.Field[0]/2, f.Aim[0] + f.Field[0]/2, f.Aim[1] - f.Field[1]/2,
		f.Aim[1] + f.Field[1]/2, f.Optics.PupilDistance()}
}

// over is how far a body sticks out of the picture on each side, faces behind to above; below 0
// where it does not. The whole body is taken to be as near as its nearest point, where the field is
// smallest: on the safe side.
func (w window) over(s *reach.Sample, i int) [4]float64 {
	k := max(1-s.Near[i]/w.u, 0)
	x, y := (w.left+w.right)/2, (w.bottom+w.top)/2
	hx, hy := k*(w.right-w.left)/2, k*(w.top-w.bottom)/2
	return [4]float64{s.Face[reach.Behind][i] + x - hx, s.Face[reach.Ahead][i] - x - hx,
		s.Face[reach.Below][i] + y - hy, s.Face[reach.Above][i] - y - hy}
}

func (w window) whole(s *reach.Sample, i int) bool {
	o := w.over(s, i)
	return max(o[0], o[1], o[2], o[3]) <= 0
}
