package plan

import (
	"leadmark/fit/unit"
	"math"
)

// Optics is a lens focused at a magnification. Lengths in metres. The lens is taken as thin but for
// its pupil magnification, which moves the entrance pupil and changes the f-number at work.
type Optics struct {
	Focal         float64
	Magnification float64
	Pupil         float64 // exit pupil over entrance pupil; 1 for a symmetric lens
	FNumber       float64
}

// Wavelength of the light that diffraction is reckoned for, m: green, where the eye sees most.
const Wavelength = 550e-9

// Distance is from the lens (its front principal plane) to the subject in focus: u = f (1 + 1/m)
// (thin lens; OpenStax College Physics, chapter 25.6).
func (o Optics) Distance() float64 { return o.Focal * (1 + 1/o.Magnification) }

// SensorDistance is from the sensor to the subject in focus: u + f (1 + m), the principal planes
// taken as one.
func (o Optics) SensorDistance() float64 {
	return o.Focal * (2 + o.Magnification + 1/o.Magnification)
}

// PupilDistance is from the entrance pupil to the subject in focus: f (1/m + 1/P) (paraxial optics;
// the ray trace of optics_test.go agrees). From there perspective and blur are seen.
func (o Optics) PupilDistance() float64 { return o.Focal * (1/o.Magnification + 1/o.Pupil) }

// EffectiveFNumber is the f-number at work: N (1 + m/P) (N (1 + m) for a symmetric lens, the
// bellows factor).
func (o Optics) EffectiveFNumber() float64 { return o.FNumber * (1 + o.Magnification/o.Pupil) }

// Defocus is the diameter on the sensor of the blur of a point at a depth before (above 0) or
// behind the plane in focus: the pupil f/N seen from the point cuts the plane in focus in a disc of
// f/N |z|/(u_p - z), which the lens draws m times as large. With P = 1 it is the relation behind
// the near and far limits of the depth-of-field formulas.
func (o Optics) Defocus(depth float64) float64 {
	u := o.PupilDistance()
	if depth >= u {
		return math.Inf(1)
	}
	return o.Magnification * o.Focal / o.FNumber * math.Abs(depth) / (u - depth)
}

// DepthOfField is the depths, far and near, at which the blur of defocus reaches c. For P = 1 they
// are the near and far limits s (H-f)/(H+s-2f) and s (H-f)/(H-s) with H = f^2/(N c) + f, from the
// lens. The far one may be -Inf.
func (o Optics) DepthOfField(c float64) (far, near float64) {
	u, b := o.PupilDistance(), o.Magnification*o.Focal/o.FNumber
	near = c * u / (b + c)
	if b <= c {
		return math.Inf(-1), near
	}
	return -c * u / (b - c), near
}

// Diffraction is the diameter of the Airy disc to its first dark ring: 2.44 lambda N (1 + m/P).
func (o Optics) Diffraction() float64 { return 2.44 * Wavelength * o.EffectiveFNumber() }

// Hyperfocal is f^2/(N c) + f, focused at which everything from half of it on is sharp to c.
func (o Optics) Hyperfocal(c float64) float64 { return o.Focal*o.Focal/(o.FNumber*c) + o.Focal }

// magnificationAt is the magnification of a thin lens focused at a distance from the sensor: the
// root of f (2 + m + 1/m) = d that is not above 1, as the lens has it when it is racked out from
// infinity. ok is false below 4 f, nearer than which a thin lens does not focus.
func magnificationAt(focal, d float64) (m float64, ok bool) {
	b := d/focal - 2
	if b < 2 {
		return 0, false
	}
	return b/2 - math.Sqrt(b*b/4-1), true
}

// thirdStops are the f-numbers that lenses mark, in thirds of a stop: 2^(k/6), exact; MarkedFNumber
// names them.
func thirdStops(widest, narrowest float64) []float64 {
	var all []float64
	for k := math.Ceil(6*math.Log2(widest) - 0.2); k <= 6*math.Log2(narrowest)+0.2; k++ {
		all = append(all, math.Exp2(k/6))
	}
	return all
}

// MarkedFNumber rounds an f-number as lenses are marked: 5.657 is f/5.6, 11.31 f/11 (the marks are
// roundings; Exif's APEX table has the exact ones).
func MarkedFNumber(n float64) float64 {
	k := math.Round(6 * math.Log2(n))
	if math.Abs(n-math.Exp2(k/6)) > 0.04*n {
		return unit.Significant(n, 2)
	}
	marks := []float64{1, 1.1, 1.2, 1.4, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3.2, 3.5, 4, 4.5, 5, 5.6, 6.3,
		7.1, 8, 9, 10, 11, 13, 14, 16, 18, 20, 22, 25, 29, 32, 36, 40, 45, 51, 57, 64}
	if i := int(k); i >= 0 && i < len(marks) {
		return marks[i]
	}
	return unit.Significant(n, 2)
}

func sq(x float64) float64 { return x * x }
