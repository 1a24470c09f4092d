package collage

import (
	"fmt"
	"math"
	"path/filepath"

	"leadmark/vision/synth/camera"
	"leadmark/vision/synth/crops"
	"leadmark/vision/synth/plane"
	"leadmark/vision/synth/texture"
)

const degree = math.Pi / 180

// Set is the rulers that were cut out and the parts that may lie behind them.
type Set struct {
	rulers  []*Ruler
	grounds []ground
}

// Load reads the photographs from the folders rulers and rulers-more below a folder.
func Load(folder string) (*Set, error) {
	truths := map[string]truthFile{}
	for _, sub := range []string{"rulers", "rulers-more"} {
		t, err := readTruth(filepath.Join(folder, sub))
		if err != nil {
			return nil, err
		}
		truths[sub] = t
	}
	s := &Set{}
	photos := map[string]*photograph{}
	for _, o := range outlines() {
		r, err := flatten(folder, o, truths[o.folder])
		if err != nil {
			return nil, err
		}
		s.rulers, photos[o.file] = append(s.rulers, r), r.photo
	}
	for _, p := range parts() {
		if photos[p.file] == nil {
			photo, err := load(filepath.Join(folder, p.folder, p.file), false)
			if err != nil {
				return nil, err
			}
			photos[p.file] = photo
		}
		s.grounds = append(s.grounds, ground{photo: photos[p.file], part: p})
	}
	return s, nil
}

// Frame is one made frame with its truth.
type Frame struct {
	Text  string
	Scene Scene
	Truth crops.Truth
}

// At poses frame number so and so at a seed.
func (s *Set) At(seed, number uint64) Frame {
	l := texture.NewLot(seed^0xc011a6e, number)
	r := s.rulers[int(number)%len(s.rulers)]
	sc := Scene{ruler: r, Seed: seed<<20 + number}
	sc.stage(l)
	sc.lay(l, s.grounds[l.IntN(len(s.grounds))])
	sc.take(l)
	return sc.frame()
}

// Run is a scene seen several times, with the ruler moved by advances, mm, from the first frame's
// pose; everything else stays.
func (s *Set) Run(seed, number uint64, advances []float64) []Frame {
	first := s.At(seed, number)
	var list []Frame
	for _, a := range advances {
		sc := first.Scene.Moved(a)
		list = append(list, sc.frame())
	}
	return list
}

func (s *Scene) frame() Frame {
	t := s.truth()
	return Frame{Scene: *s, Truth: t, Text: fmt.Sprintf("%s, front at %.4g mm, on %s, %s; %d x %d; %.1f px/mm",
		s.ruler.Name, t.Scales[0].FrontMM, s.ground.part.file, s.Travel, s.W, s.H, t.PxPerMM)}
}

// stage chooses an end and lays the ruler on its track. Where the photograph cut the ruler off, the
// frame does too.
func (s *Scene) stage(l texture.Lot) {
	r := s.ruler
	o := &r.outline
	left, right := r.limit(true), r.limit(false)
	leftIs, rightIs := o.left, o.right
	if left > right {
		left, right, leftIs, rightIs = right, left, rightIs, leftIs
	}
	s.forward = 1
	if leftIs && (!rightIs || l.Chance(0.5)) {
		s.forward = -1
	}
	s.front = leftIs || rightIs
	whole := right - left
	perMM := min(22, r.perMM) * l.Ratio(0.6, 1.05)
	perMM = max(perMM, 4.2/r.rows[0].step, 600/whole)
	seen := min(whole*l.Span(0.75, 0.95), 1500/perMM) // of the ruler
	ahead := l.Span(0.1, 0.5) * seen                  // of the backdrop before the end
	rear := (s.forward > 0 && leftIs || s.forward < 0 && rightIs) && l.Chance(0.2)
	if !s.front {
		ahead = -0.02 * whole
	} else if rear {
		seen = whole + l.Span(2, 10)
	}
	end := right
	if s.forward < 0 {
		end = left
	}
	middle := end + s.forward*(ahead-seen)/2
	long := (seen + ahead) * perMM
	turn := l.Span(-5, 5) * degree
	deep := math.Abs(r.width[1] - r.width[0])
	wide := deep*perMM*l.Span(1.15, 1.7) + long*math.Abs(math.Sin(turn)) + 40
	s.Travel = texture.Pick(l, "right", "left", "up", "down")
	s.W, s.H = int(long), int(min(wide, 1100))
	if !s.front { // the frame must not see where the outline ends
		turn = 0
	}
	angle := map[string]float64{"right": 0, "down": 90, "left": 180, "up": 270}[s.Travel] * degree
	if s.forward < 0 {
		angle += math.Pi
	}
	if s.Travel == "up" || s.Travel == "down" {
		s.W, s.H = s.H, s.W
	}
	mirror := plane.Map{1, 0, 0, 0, r.hand(), 0, 0, 0, 1}
	s.pose = mirror.Then(plane.Pose{About: plane.Point{X: middle, Y: r.hand() * (r.width[0] + r.width[1]) / 2},
		Centre:  plane.Point{X: float64(s.W-1) / 2, Y: float64(s.H-1) / 2},
		PxPerMM: perMM, Distance: 2 * (seen + ahead) * l.Span(1, 3), Yaw: l.Span(-8, 8) * degree,
		Tilt: l.Span(-8, 8) * degree, Turn: angle + turn}.Map())
	s.motion = l.Span(0, 0.6) * r.rows[0].step
	if l.Chance(0.3) {
		s.motion = 0
	}
}

// lay puts a part of a photograph behind the ruler.
func (s *Scene) lay(l texture.Lot, g ground) {
	g.scale = l.Ratio(0.7, 3) * min(2, float64(g.photo.w)/1500)
	turn, shift := l.Span(-math.Pi, math.Pi), l.Span(200, 2000)
	if l.Chance(0.5) {
		turn = math.Round(turn/(math.Pi/2)) * math.Pi / 2
	}
	c, n := g.scale*math.Cos(turn), g.scale*math.Sin(turn)
	g.to = plane.Map{c, -n, shift, n, c, l.Span(200, 2000), 0, 0, 1}
	s.level = l.Span(0.55, 1.1)
	g.light = l.Ratio(0.3, 1.2)
	s.ground = g
	s.fall = [2]float64{l.Span(-0.4, 0.4), l.Span(-0.3, 0.3)}
	if l.Chance(0.5) {
		s.shadow, s.aside = l.Span(0.2, 0.7), [2]float64{l.Span(-2, 2), l.Span(-2, 2)}
	}
}

// take sets the camera.
func (s *Scene) take(l texture.Lot) {
	blur := l.Span(0.3, 0.9)
	s.Camera = camera.Camera{Blur: camera.Sigma{From: blur, To: blur},
		Mosaic: texture.Pick(l, camera.Whole, camera.Bilinear, camera.Directed), Curve: l.Span(0, 0.1),
		Sharpen: l.Span(0, 0.8), Radius: l.Span(0.7, 1.4), Quality: 68 + l.IntN(30),
		Thin: texture.Pick(l, camera.Thin420, camera.Thin422),
		Sensor: camera.Sensor{FullWell: l.Ratio(1500, 30000), Read: l.Span(3, 9),
			Gains: [3]float64{0.55, 1, 0.65}}}
}
