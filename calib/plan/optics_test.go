package plan_test

import (
	"math"
	"testing"

	"leadmark/calib/plan"
	"leadmark/calib/plan/light"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

// focusedAt is a thin lens of pupil magnification 1 with the subject at s from the lens.
func focusedAt(f, n, s float64) plan.Optics {
	return plan.Optics{Focal: f, Magnification: f / (s - f), Pupil: 1, FNumber: n}
}

// Thin lens: OpenStax College Physics, example 25.6 (f 0.5 m, object at 0.75 m: image at 1.5 m,
// m = 2; its digits from memory), and values computed from 1/f = 1/so + 1/si.
func TestThinLens(t *testing.T) {
	for _, c := range []struct{ f, so, si, m float64 }{{0.5, 0.75, 1.5, 2}, {0.1, 0.2, 0.2, 1},
		{0.05, 1, 0.052631579, 0.052631579}, {0.105, 0.314, 0.157751196, 0.502392345}} {
		o := focusedAt(c.f, 8, c.so)
		near(t, "m", o.Magnification, c.m, 1e-8)
		near(t, "object distance", o.Distance(), c.so, 1e-12)
		near(t, "image distance", o.SensorDistance()-o.Distance(), c.si, 1e-8)
	}
}

// Hyperfocal distance and near and far limits: 35 mm f/11 c 0.03 gives 3.75 m (published worked
// example of a museum's forum, computed 3.7471212 m); 50 mm f/8 c 0.03 gives 10.467 m (an
// encyclopedia's example, from memory, computed 10.4666667 m); the limits are computed from near =
// s(H-f)/(H+s-2f), far = s(H-f)/(H-s).
func TestDepthOfFieldExamples(t *testing.T) {
	near(t, "35 mm f/11", plan.Optics{Focal: 0.035, FNumber: 11}.Hyperfocal(30e-6), 3.7471212, 1e-7)
	near(t, "50 mm f/8", plan.Optics{Focal: 0.05, FNumber: 8}.Hyperfocal(30e-6), 10.4666667, 1e-8)
	for _, c := range []struct{ f, n, c, s, near, far float64 }{
		{50, 8, 0.03, 3000, 2337.90524, 4185.26786}, {50, 8, 0.03, 1000, 916.42229, 1100.35211},
		{100, 11, 0.03, 400, 396.07882, 403.99960}, {100, 16, 0.02, 300, 298.09221, 301.93237},
	} {
		o := focusedAt(c.f*1e-3, c.n, c.s*1e-3)
		far, close := o.DepthOfField(c.c * 1e-3)
		near(t, "near limit", (o.Distance()-close)*1e3, c.near, 1e-8)
		near(t, "far limit", (o.Distance()-far)*1e3, c.far, 1e-8)
		near(t, "blur at the near limit", o.Defocus(close), c.c*1e-3, 1e-12)
		near(t, "blur at the far limit", o.Defocus(far), c.c*1e-3, 1e-12)
		// the close-up approximation 2 N c (m+1)/m^2 is within 0.01 % of these there
		if m := o.Magnification; m > 0.1 {
			near(t, "close-up depth of field", close-far, 2*c.n*c.c*1e-3*(m+1)/(m*m), 2e-4)
		}
	}
	if far, _ := focusedAt(0.05, 8, 20).DepthOfField(30e-6); !math.IsInf(far, -1) {
		t.Errorf("focused beyond the hyperfocal distance the far limit is %v", far)
	}
}

// Effective f-number N (1 + m), computed: f/11 is f/16.5 at m = 0.5 and f/22 at 1:1.
func TestEffectiveFNumber(t *testing.T) {
	near(t, "m 0.5", plan.Optics{Magnification: 0.5, Pupil: 1, FNumber: 11}.EffectiveFNumber(),
		16.5, 1e-12)
	near(t, "1:1", plan.Optics{Magnification: 1, Pupil: 1, FNumber: 11}.EffectiveFNumber(), 22,
		1e-12)
}

// ray is a paraxial ray: height and angle.
type ray struct{ y, u float64 }

// A ray trace by matrix optics (any optics text, such as Hecht, Optics, chapter 6; Gerrard and
// Burch 1975): free space adds angle times length to the height, a thin lens takes height over
// focal length off the angle.
func (r ray) travel(d float64) ray { return ray{r.y + d*r.u, r.u} }
func (r ray) lens(f float64) ray   { return ray{r.y, r.u - r.y/f} }

// twoLenses is a lens of two thin ones with a stop somewhere, traced ray by ray.
type twoLenses struct {
	f1, gap, f2 float64
	stop        float64 // behind the first lens
	radius      float64 // of the stop
}

// through sends a ray that arrives at the first lens to the plane of the second one's far side.
func (l twoLenses) through(r ray) ray { return r.lens(l.f1).travel(l.gap).lens(l.f2) }

// atStop is the height at the stop of a ray that arrives at the first lens.
func (l twoLenses) atStop(r ray) float64 { return r.lens(l.f1).travel(l.stop).y }

// edge is the angle of the ray from a point on the axis, d before the first lens, that just passes
// the stop.
func (l twoLenses) edge(d float64) ray {
	one := l.atStop(ray{0, 1}.travel(d)) // height at the stop is proportional to the angle
	return ray{0, l.radius / one}.travel(d)
}

// image is how far behind the second lens a point on the axis is imaged, from where the edge ray
// crosses the axis.
func (l twoLenses) image(d float64) float64 {
	r := l.through(l.edge(d))
	return -r.y / r.u
}

// optics measures focal length, f-number, pupil magnification and magnification by rays alone.
func (l twoLenses) optics(d float64) plan.Optics {
	parallel := l.through(ray{1, 0})
	f := -1 / parallel.u
	scale := l.radius / l.atStop(ray{1, 0})
	// Magnification: any ray from a point off the axis, taken to the image plane.
	v := l.image(d)
	off := l.through(ray{1e-3, 0}.travel(d)).travel(v)
	return plan.Optics{Focal: f, Magnification: -off.y / 1e-3, Pupil: l.pupils(),
		FNumber: f / (2 * scale)}
}

// pupils is exit pupil over entrance pupil: the stop imaged by the lens behind it, over the stop
// imaged by the one before.
func (l twoLenses) pupils() float64 {
	// magnification of a thin lens, object at d
	size := func(f, d float64) float64 { return math.Abs(f / (f - d)) }
	return size(l.f2, l.gap-l.stop) / size(l.f1, l.stop)
}

// The relations of the thin lens, of depth of field and of the pupil's magnification hold for rays
// traced one by one through lenses with the stop before, between and behind: the blur on the sensor
// is where the two edge rays of a point off the focus land.
func TestOpticsAgainstRayTrace(t *testing.T) {
	for _, c := range []struct {
		name string
		l    twoLenses
		d    float64
	}{
		{"thin lens", twoLenses{f1: 0.1, gap: 0, f2: 1e12, stop: 0, radius: 0.003}, 0.45},
		{"thin lens, 1:1", twoLenses{f1: 0.1, gap: 0, f2: 1e12, stop: 0, radius: 0.002}, 0.2},
		{"two positive lenses", twoLenses{f1: 0.12, gap: 0.04, f2: 0.15, stop: 0.02, radius: 0.004},
			0.5},
		{"telephoto", twoLenses{f1: 0.08, gap: 0.05, f2: -0.09, stop: 0.03, radius: 0.003}, 0.6},
		{"reversed telephoto", twoLenses{f1: -0.1, gap: 0.06, f2: 0.05, stop: 0.055, radius: 0.003},
			0.3},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := c.l.optics(c.d)
			v := c.l.image(c.d)
			for _, z := range []float64{-0.03, -0.01, -0.001, 0.001, 0.01, 0.03} {
				r := c.l.through(c.l.edge(c.d - z)).travel(v)
				near(t, "blur", o.Defocus(z), 2*math.Abs(r.y), 1e-9)
			}
			// The cone on the sensor: its f-number is 1/(2 angle), paraxially.
			near(t, "f-number at work", o.EffectiveFNumber(),
				1/(2*math.Abs(c.l.through(c.l.edge(c.d)).u)), 1e-9)
			far, close := o.DepthOfField(20e-6)
			for _, z := range []float64{far, close} {
				r := c.l.through(c.l.edge(c.d - z)).travel(v)
				near(t, "blur at a limit", 2*math.Abs(r.y), 20e-6, 1e-9)
			}
		})
	}
	// The thin lens's distance from subject to sensor.
	l := twoLenses{f1: 0.1, f2: 1e12, radius: 0.003}
	near(t, "subject to sensor", l.optics(0.45).SensorDistance(), 0.45+l.image(0.45), 1e-9)
}

// Diffraction: the first dark ring lies at 1.22 lambda N, the first zero of the Bessel function J1
// at pi 1.2196699 (Airy 1835; any table of Bessel functions, here from the zero of math.J1).
func TestAiryDisc(t *testing.T) {
	lo, hi := 3.0, 4.5
	for range 60 {
		if mid := (lo + hi) / 2; math.J1(mid) > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	o := plan.Optics{Focal: 0.1, Magnification: 0.25, Pupil: 1, FNumber: 11}
	// 2.44 is rounded
	near(t, "Airy disc", o.Diffraction(), 2*lo/math.Pi*plan.Wavelength*11*1.25, 5e-4)
}

// Marked f-numbers are roundings of powers of the root of two (f/5.6 is 5.657, f/11 is 11.31), and
// marked ISO speeds of thirds of a stop.
func TestMarks(t *testing.T) {
	for x, want := range map[float64]float64{5.657: 5.6, 11.314: 11, 22.63: 22, 8: 8, 7.127: 7.1,
		3.4: 3.4} {
		if got := plan.MarkedFNumber(x); got != want {
			t.Errorf("f/%g is marked %g, want %g", x, got, want)
		}
	}
	for x, want := range map[float64]float64{100: 100, 125.99: 125, 158.7: 160, 200: 200, 252: 250,
		50: 50, 63: 63, 6400: 6400} {
		if got := light.MarkedISO(x); math.Abs(got-want) > 1.01 {
			t.Errorf("ISO %g is marked %g, want %g", x, got, want)
		}
	}
}
