package shoot

import (
	"fmt"
	"math"

	"leadmark/calib/input"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
)

// Heading is what the frames teach of the elevation, the heading in the picture's plane.
type Heading struct {
	N, Censored     int     // animals, and those of them whose nose was out above or below
	Elevation, SD   float64 // rad, of the law from trip to trip
	Elevation95     [2]float64
	Known           predict.Known
	MaxLikelihoodSD float64 // SD before its bias was taken out
}

// Of is the subject with that heading.
func (h Heading) Of(s subject.Subject) subject.Subject {
	s.Elevation, s.ElevationSD = h.Elevation, h.SD
	return s
}

// Ray is where one animal was, seen from the middle of the opening; m. For an animal whose nose was
// out above or below it is the place at the picture's edge that it was seen to have come to.
type Ray struct {
	Along, Up float64
	Out       int // 0: the nose was seen; 1: it was out above, -1: below
}

// openingNodes stand for the opening: where in it an animal began cannot be seen.
const openingNodes = 9

// LearnHeading estimates the law of the elevation by maximum likelihood. The heading is that of the
// line from the opening to the nose; where in the opening it began is uniform and integrated out.
// Speed and elevation are taken as independent, so that for an animal at a distance r the elevation
// is the law's, cut to those at which it is seen: a steep one leaves the picture sooner. One whose
// nose is out above or below counts with the chance of that. The interval is as for the speed.
//
// What a picture from the side does not show is the azimuth, the heading toward the camera or away:
// it only shortens the way along, by its cosine.
//
// It returns an *input.NoResult with fewer than 5 noses seen, and for a motion that is not
// straight.
func LearnHeading(rays []Ray, f Field, s subject.Subject) (Heading, error) {
	var angles, ways []headingAt
	for _, r := range rays {
		a := headingOf(r, f, s.Exit[0])
		if ways = append(ways, a); r.Out == 0 {
			angles = append(angles, a)
		}
	}
	h := Heading{N: len(ways), Censored: len(ways) - len(angles)}
	switch {
	case s.Motion != subject.Straight:
		return h,
			&input.NoResult{What: fmt.Sprintf("headings are learned for motion straight only, not for %s",
				s.Motion)}
	case len(angles) < fewestLeads:
		return h,
			&input.NoResult{What: fmt.Sprintf("%d headings were seen; they are learned from %d or more",
				len(angles), fewestLeads)}
	}
	mean, scatter := 0.0, 0.0
	n := float64(len(angles))
	for _, a := range angles {
		mean += a.angle / n
	}
	for _, a := range angles {
		scatter += (a.angle - mean) * (a.angle - mean) / n
	}
	scale := max(math.Sqrt(scatter), 0.002)
	p := profile{scale: scale, from: mean - 3*scale, to: mean + 3*scale, least: -math.Pi / 2,
		likelihood: func(mean, sd float64) float64 {
			sum := 0.0
			for i := range ways {
				sum += ways[i].logLikelihood(mean, sd)
			}
			return sum
		}}
	h.Elevation, h.Elevation95 = p.interval(n)
	h.MaxLikelihoodSD = p.sd(h.Elevation)
	h.SD = h.MaxLikelihoodSD * math.Sqrt(n/(n-1))
	h.Known = predict.Known{U: (h.Elevation95[1] - h.Elevation95[0]) / 2 / student(n), DF: n - 1}
	return h, nil
}

// headingAt is what one animal says of the heading.
type headingAt struct {
	angle float64 // as seen from the middle of the opening
	// elevation and its change with height, for each place in the opening
	from [openingNodes][2]float64
	out  int
	// elevations between which an animal at its distance is seen, its tail at the latest
	visible [2]float64
	nose    [2]float64 // and its nose
	ahead   float64    // elevations below this, up and down, lead out in front; 0 where none does
}

func headingOf(r Ray, f Field, opening float64) headingAt {
	h := headingAt{angle: math.Atan2(r.Up, r.Along), out: r.Out}
	for i := range h.from {
		up := r.Up - opening*((float64(i)+0.5)/openingNodes-0.5)
		e := math.Atan2(up, r.Along)
		h.from[i] = [2]float64{e, math.Abs(r.Along) / (r.Along*r.Along + up*up)}
	}
	d := math.Hypot(r.Along, r.Up)
	if r.Out != 0 {
		d += f.Body / 2 // the nose is past what was seen, by less than a body
	}
	h.visible, h.nose = f.between(d-f.Body), f.between(d)
	if d > f.End {
		h.ahead = math.Acos(f.End / d)
	}
	return h
}

// between are the elevations between which a place so far away lies below the picture's top and
// above its bottom.
func (f Field) between(d float64) [2]float64 {
	e := [2]float64{-math.Pi / 2, math.Pi / 2}
	if d > -f.Bottom {
		e[0] = math.Asin(f.Bottom / d)
	}
	if d > f.Top {
		e[1] = math.Asin(f.Top / d)
	}
	return e
}

// logLikelihood is that of the elevation's law given one animal that was seen.
func (h *headingAt) logLikelihood(mean, sd float64) float64 {
	below := func(e float64) float64 { return math.Erfc((mean-e)/(sd*math.Sqrt2)) / 2 }
	seen := below(h.visible[1]) - below(h.visible[0])
	if h.ahead > 0 {
		seen -= below(min(h.ahead, h.visible[1])) - below(max(-h.ahead, h.visible[0]))
	}
	p := 0.0
	switch {
	case h.out > 0:
		p = below(h.visible[1]) - below(min(h.nose[1], h.visible[1]))
	case h.out < 0:
		p = below(max(h.nose[0], h.visible[0])) - below(h.visible[0])
	default:
		for _, q := range h.from {
			z := (q[0] - mean) / sd
			p += math.Exp(-z*z/2) * q[1] / sd / openingNodes
		}
	}
	return math.Log(max(p, 1e-300)) - math.Log(max(seen, 1e-12))
}
