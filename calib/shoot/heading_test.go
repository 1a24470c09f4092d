package shoot

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"leadmark/calib/input"
	"leadmark/calib/plan/subject"
)

var level = subject.Subject{Motion: subject.Straight}

// everywhere is a field without an end.
var everywhere = Field{End: math.Inf(1), Top: math.Inf(1), Bottom: math.Inf(-1), Body: 0.01}

// raysAt are noses at a distance of 1 m, in directions.
func raysAt(angles ...float64) (all []Ray) {
	for _, a := range angles {
		all = append(all, Ray{Along: math.Cos(a), Up: math.Sin(a)})
	}
	return all
}

// Without an opening and without an edge the interval is the textbook's, mean +- t s/sqrt(n): the
// eight numbers of the speeds' test, a twentieth of them.
func TestHeadingIntervalIsStudents(t *testing.T) {
	h, err := LearnHeading(raysAt(0.255, 0.245, 0.28, 0.235, 0.265, 0.25, 0.27, 0.26), everywhere,
		level)
	if err != nil {
		t.Fatal(err)
	}
	if !(math.Abs(h.Elevation-5.15/20) <= 1e-4) || !(math.Abs(h.Elevation95[0]-4.90935/20) <= 1e-4) ||
		!(math.Abs(h.Elevation95[1]-5.39065/20) <= 1e-4) || !(math.Abs(h.SD-0.28785/20) <= 1e-4) {
		t.Errorf("%+v", h)
	}
	if !(math.Abs(h.Known.U-0.28785/20/math.Sqrt(8)) <= 1e-4) || h.Known.DF != 7 {
		t.Errorf("known to %+v", h.Known)
	}
}

// Animals whose nose is out above count as beyond that angle: R 4.2.2 with survival, as for the
// speeds, all of it a fourth (survreg(Surv(c(1.31, 0.92, 1.44, 1.05, 1.60, 1.22, 0.87, 1.75, 1.75,
// 1.75), c(1,1,1,1,1,1,1,0,0,0)) ~ 1, dist = "gaussian") gives 1.444868 and 0.443153). A body so
// long that it is always seen leaves no selection.
func TestCensoredHeadingsAgainstRSurvival(t *testing.T) {
	rays := raysAt(1.31/4, 0.92/4, 1.44/4, 1.05/4, 1.60/4, 1.22/4, 0.87/4)
	f := everywhere
	f.Body = 20
	f.Top = (1 + f.Body/2) * math.Sin(1.75/4)
	for range 3 {
		rays = append(rays, Ray{Along: math.Cos(1.75 / 4), Up: math.Sin(1.75 / 4), Out: 1})
	}
	h, err := LearnHeading(rays, f, level)
	if err != nil {
		t.Fatal(err)
	}
	if !(math.Abs(h.Elevation-1.444868/4) <= 1e-3) || !(math.Abs(h.MaxLikelihoodSD-0.443153/4) <= 1e-3) ||
		h.Censored != 3 {
		t.Errorf("%+v; R has %.5f and %.5f", h, 1.444868/4, 0.443153/4)
	}
}

func TestTooFewHeadings(t *testing.T) {
	var none *input.NoResult
	if _, err := LearnHeading(raysAt(0.1, 0.2, 0.3, 0.1), everywhere, level); !errors.As(err,
		&none) {
		t.Errorf("four headings gave %v", err)
	}
	if _, err := LearnHeading(raysAt(0.1, 0.2, 0.3, 0.1, 0.2), everywhere,
		subject.Subject{Motion: subject.Hop}); !errors.As(err, &none) {
		t.Errorf("a hop gave %v", err)
	}
}

// headingShot is a shoot in which animals leave the field in front, above and below.
type headingShot struct {
	rays      []Ray
	field     Field
	subject   subject.Subject
	truth, sd float64
	gone      float64   // share of the animals that is
	seen      int       // noses in the field
	all       []float64 // elevations of all animals
}

// headingShoot draws one.
func headingShoot(r *rand.Rand) (out headingShot) {
	s := subject.Subject{Motion: subject.Straight, Exit: [2]float64{0.012 * r.Float64(), 0},
		AzimuthSD: 0.14 * r.Float64()}
	truth := 0.5 * (r.Float64() - 0.5)
	sd, reach, rel := 0.05+0.2*r.Float64(), 0.06, 0.1+0.25*r.Float64()
	f := Field{End: reach * (1.1 + 0.6*r.Float64()), Top: reach * (0.25 + 0.5*r.Float64()),
		Bottom: -reach * (0.25 + 0.5*r.Float64()), Body: 0.012}
	out = headingShot{field: f, subject: s, truth: truth, sd: sd}
	n := 8 + r.IntN(53)
	for range n {
		e, a := truth+sd*r.NormFloat64(), s.AzimuthSD*r.NormFloat64()
		out.all = append(out.all, e)
		d := max(0.001, reach*(1+rel*r.NormFloat64()))
		up := s.Exit[0] * (r.Float64() - 0.5)
		at := func(d float64) (x, y float64) {
			return d * math.Cos(e) * math.Cos(a),
				up + d*math.Sin(e)
		}
		inside := func(x, y float64) bool { return x < f.End && y < f.Top && y > f.Bottom }
		x, y := at(d)
		if inside(x, y) {
			out.rays, out.seen = append(out.rays, Ray{x, y, 0}), out.seen+1
			continue
		}
		if !inside(at(d - f.Body)) {
			out.gone += 1 / float64(n)
			continue
		}
		for inside(x, y) == false { // back to the edge, where it is cut
			d -= f.Body / 100
			x, y = at(d)
		}
		switch tip := 1.02 * f.Body / 100; {
		case y > f.Top-tip:
			out.rays = append(out.rays, Ray{x, y, 1})
		case y < f.Bottom+tip:
			out.rays = append(out.rays, Ray{x, y, -1})
		}
	}
	return out
}

// headings learns the mean elevation in so many shoots of which up to 40 % of the animals are gone.
func headings(shoots int, seed uint64) (out learning) {
	r := rand.New(rand.NewPCG(seed, 10))
	for out.shoots+out.few < shoots {
		shot := headingShoot(r)
		if shot.gone > 0.4 {
			out.gone++
			continue
		}
		h, err := LearnHeading(shot.rays, shot.field, shot.subject)
		out.add(lesson{seen: shot.seen, truth: shot.truth, sd: shot.sd, all: shot.all, interval: h.Elevation95,
			learnedSD: h.SD, err: err})
	}
	return out
}

// The short form; LEADMARK_COVERAGE=1 (scripts/learnstudy) runs the shoots of the promise.
func TestHeadingCoverage(t *testing.T) { heldAsPromised(t, headings) }
