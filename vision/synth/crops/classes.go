package crops

import (
	"fmt"
	"math"
	"sort"

	"leadmark/vision/synth/camera"
	"leadmark/vision/synth/plane"
	"leadmark/vision/synth/texture"
)

const degree = math.Pi / 180

// Frame is one picture of a class.
type Frame struct {
	Class, Text string
	Scene       Scene
	Truth       Truth
}

// Classes are what spoils the frames.
func Classes() []string {
	return []string{"plain", "lines", "covered", "glare", "dark", "worn", "units", "steel", "clear", "tilted",
		"moving", "noisy", "endless", "mixed", "few", "folding"}
}

// WholeFrames is the class of frames that are not cut out: 12 to 45 megapixels, seconds each to draw.
const WholeFrames = "whole"

// At is frame number so and so of a class at a seed, readable or not.
func At(class string, seed, number uint64) Frame { return at(class, seed, number, 0) }

// Sized is a frame of the class that is not cut out, of so many megapixels.
func Sized(seed, number uint64, megapixels float64) Frame {
	return at(WholeFrames, seed, number, megapixels)
}

// at is likewise; 0 megapixels: whole frames are of 12 to 45.
func at(class string, seed, number uint64, megapixels float64) Frame {
	h := seed
	for _, b := range []byte(class) {
		h = h*1099511628211 ^ uint64(b)
	}
	l := texture.NewLot(h, number)
	p := posed{l: l, Scene: Scene{Seed: h + number, lot: texture.NewLot(h, number+1<<40)}}
	p.choose(class)
	p.stage(class)
	if class == WholeFrames {
		pixels := p.l.Ratio(12e6, 45e6)
		if megapixels > 0 {
			pixels = megapixels * 1e6
		}
		p.enlarge(pixels)
	}
	p.light()
	p.ground(class)
	p.take(class)
	p.spoil(class)
	s := p.Scene
	t := s.Truth()
	return Frame{Class: class, Scene: s, Truth: t, Text: s.text(&t)}
}

func (s *Scene) text(t *Truth) string {
	names := s.Ruler.Scales[0].Name
	if len(s.Ruler.Scales) > 1 {
		names += " and " + s.Ruler.Scales[1].Name
	}
	return fmt.Sprintf("%s, %s, front at %.4g mm, on %s, %s; %d x %d; %.1f px a graduation, %.1f px/mm, %s", names,
		s.Ruler.Material.Name, t.Scales[0].FrontMM, s.Backdrop, s.Travel, s.W, s.H, t.PitchPX, t.PxPerMM,
		s.Camera.Mosaic)
}

// posed is a scene on its way.
type posed struct {
	Scene
	l     texture.Lot
	pitch float64 // px
	long  float64 // px, of the picture along the track
}

// choose picks the ruler.
func (p *posed) choose(class string) {
	l, all := p.l, trade()
	sc := all[0]
	if class == "units" || class == "mixed" || l.Chance(0.3) {
		sc = all[l.IntN(len(all))]
	}
	p.pitch = l.Ratio(6, 18)
	if class == "noisy" || class == "moving" {
		p.pitch = l.Ratio(8, 18)
	}
	p.pitch = min(max(p.pitch, 2.5*sc.Step), 40*sc.Step)
	if class == "few" {
		coarse := coarse()
		sc = coarse[l.IntN(len(coarse))]
		p.pitch = l.Ratio(18, 70)
	}
	perMM := p.pitch / sc.Step
	r := &p.Ruler
	r.Width = min(l.Span(12, 36), 460/perMM)
	if class == "few" {
		r.Width = l.Span(24, 40)
	}
	r.Material = p.material(class)
	r.Length = max(150, l.Span(1.2, 3)*110*sc.Step)
	if l.Chance(0.3) {
		r.Corner = l.Span(0.3, 2)
	}
	p.scales(sc, class)
	if first := &r.Scales[0]; l.Chance(0.25) && first.Zero > 6 && r.Width > 14 {
		r.Hole, r.HoleAt = min(r.Width*0.12, 2.5), first.Zero/2
	}
	step, high := float64(sc.Label)*sc.Step, 0.2*r.Width
	if len(r.Scales) > 1 { // two rows of numerals have to fit
		high = (r.Width/2 - r.Scales[0].longest()) / 1.4
	} else if l.Chance(0.5) {
		r.Words = l.Name()
	}
	p.pen = pen{high: min(high, 0.4*step, 4), slant: texture.Pick(l, 0, 0.15), wide: l.Span(0.8, 1.1)}
	p.pen.thick = p.pen.high * l.Span(0.09, 0.16)
	p.grain = texture.NewGrain(l)
}

func (p *posed) material(class string) Material {
	var some []Material
	for _, m := range materials() {
		metal, clear := m.Sheen > 0.1, m.Clear > 0
		if class == "steel" && metal || class == "clear" && clear ||
			class != "steel" && class != "clear" && (!clear || class == "mixed") {
			some = append(some, m)
		}
	}
	return some[p.l.IntN(len(some))]
}

// scales lays one or two scales on the ruler.
func (p *posed) scales(first Scale, class string) {
	l, r := p.l, &p.Ruler
	two := class == "units" && l.Chance(0.75) || l.Chance(0.4)
	list := []Scale{first}
	if two {
		all, metric := trade(), first.Step == math.Round(first.Step*2)/2
		for {
			other := all[l.IntN(len(all))]
			if m := other.Step == math.Round(other.Step*2)/2; m != metric && other.Step > first.Step/4 &&
				other.Step < 4*first.Step {
				list = append(list, other)
				break
			}
		}
	}
	longest := l.Span(0.25, 0.38) * r.Width
	longest = min(longest, max(8, 0.9*first.Step*10), 12)
	margin := 0.0
	if class == "glare" || l.Chance(0.55) {
		margin = l.Span(2, 12) * min(1, 2*max(0.4, first.Step))
	}
	behind, far := l.Chance(0.3), l.Chance(0.5)
	for i, sc := range list {
		for k := range sc.Orders {
			sc.Orders[k].Length *= longest
		}
		sc.Line = min(l.Span(0.12, 0.28)*sc.Step, 0.5)
		sc.Far = far != (i == 1)
		n := int((r.Length - 2*margin - 1) / sc.Step)
		sc.Zero, sc.Sense, sc.To = margin, 1, n
		if behind != (i == 1 && l.Chance(0.3)) {
			n -= n % sc.Label
			sc.Zero, sc.Sense, sc.From, sc.To = margin+float64(n)*sc.Step, -1, -n, 0
		}
		if l.Chance(0.15) {
			sc.Start = 0.1 * longest
		}
		r.Scales = append(r.Scales, sc)
	}
}

// stage places camera and ruler.
func (p *posed) stage(class string) {
	l := p.l
	perMM := p.pitch / p.Ruler.Scales[0].Step
	p.long = min(2000, max(700, l.Span(45, 110)*p.pitch))
	if class == "few" {
		p.long = min(2600, max(700, l.Span(30, 45)*p.pitch))
	}
	steep := 5.0
	if class == "tilted" || class == "mixed" {
		steep = 15
	}
	turn := l.Span(-4, 4) * degree
	if class == "tilted" {
		turn = l.Span(-9, 9) * degree
	}
	wide := p.Ruler.Width*perMM*l.Span(1.15, 1.6) + p.long*math.Abs(math.Sin(turn)) + 50
	wide = min(max(240, wide), 2e6/p.long, 1000)
	p.Travel = texture.Pick(l, "right", "left", "up", "down")
	p.W, p.H = int(p.long), int(wide)
	if p.Travel == "up" || p.Travel == "down" {
		p.W, p.H = p.H, p.W
	}
	ahead := l.Span(0.15, 0.42) * p.long / perMM
	if class == "endless" {
		ahead = l.Span(0.65, 0.9) * p.long / perMM
		p.Ruler.Length = max(p.Ruler.Length, 3*p.long/perMM)
		p.extend()
	}
	angle := map[string]float64{"left": 0, "up": 90, "right": 180, "down": 270}[p.Travel] * degree
	p.Pose = plane.Pose{About: plane.Point{X: ahead, Y: p.Ruler.Width / 2}, PxPerMM: perMM, Turn: angle + turn,
		Centre:   plane.Point{X: float64(p.W-1)/2 + l.Span(-8, 8), Y: float64(p.H-1)/2 + l.Span(-8, 8)},
		Distance: max(120, 1.5*p.long/perMM) * l.Span(1, 3),
		Yaw:      l.Span(-steep, steep) * degree, Tilt: l.Span(-steep, steep) * degree,
		Principal: plane.Point{X: l.Span(-0.5, 0.5) * p.long, Y: l.Span(-0.5, 0.5) * p.long}}
}

// enlarge makes the crop a place in a whole frame of so many pixels.
func (p *posed) enlarge(pixels float64) {
	l := p.l
	w := math.Sqrt(pixels * 1.5)
	whole := [2]int{int(w), int(w / 1.5)}
	if p.H > p.W {
		whole = [2]int{whole[1], whole[0]}
	}
	left, top := l.IntN(max(1, whole[0]-p.W)), l.IntN(max(1, whole[1]-p.H))
	p.Pose.Centre = p.Pose.Centre.Add(plane.Point{X: float64(left), Y: float64(top)})
	p.Pose.Principal = plane.Point{X: float64(whole[0]) / 2, Y: float64(whole[1]) / 2}.Sub(p.Pose.Centre)
	p.Pose.Distance = max(p.Pose.Distance, 1.2*w/p.Pose.PxPerMM)
	p.W, p.H, p.long = whole[0], whole[1], w
}

// extend lets scales run to the end of a ruler that was made longer.
func (p *posed) extend() {
	for i := range p.Ruler.Scales {
		sc := &p.Ruler.Scales[i]
		if sc.Sense > 0 {
			sc.To = int((p.Ruler.Length - sc.Zero - 1) / sc.Step)
			continue
		}
		n := int((p.Ruler.Length - 2) / sc.Step)
		margin := sc.Zero + float64(sc.From)*sc.Step
		sc.From, sc.Zero = -n, margin+float64(n)*sc.Step
	}
}

// light sets the exposure so that the ruler is well lit, and the shadow behind it.
func (p *posed) light() {
	l, m := p.l, &p.Ruler.Material
	top := max(m.Body.Bright()*(1+0.5*m.Sheen)+0.4*m.Clear, m.Ink.Bright())
	p.Lighting = Lighting{Level: l.Span(0.5, 0.95) / top, Fall: [2]float64{l.Span(-0.5, 0.5), l.Span(-0.3, 0.3)}}
	if l.Chance(0.5) {
		p.Lighting.Shadow, p.Lighting.Penumbra = l.Span(0.2, 0.8), l.Ratio(0.2, 3)
		p.Lighting.ShadowBy = [2]float64{l.Span(-3, 3), l.Span(-3, 3)}
	}
}

// ground lays something behind the ruler.
func (p *posed) ground(class string) {
	l := p.l
	names := make([]string, 0, 16)
	for n := range texture.Backdrops() {
		names = append(names, n)
	}
	sort.Strings(names)
	p.Backdrop = names[l.IntN(len(names))]
	unit, angle := p.pitch*l.Ratio(0.6, 8), l.Span(-math.Pi, math.Pi)
	if class == "lines" || class == "mixed" && l.Chance(0.5) {
		lined := texture.Lined()
		p.Backdrop = lined[l.IntN(len(lined))]
		unit, angle = p.pitch*l.Ratio(0.8, 3), p.Pose.Turn+l.Span(-6, 6)*degree
	}
	f := texture.Backdrops()[p.Backdrop](l)
	even := l.Ratio(0.4, 1.2) / max(0.6, p.Lighting.Level)
	if p.Lighting.Level < 1 {
		even = l.Ratio(0.4, 1.2)
	}
	turned := f.Turned(unit, angle, l.Span(0, 999), l.Span(0, 999))
	p.Ground = func(x, y float64) texture.Colour { return turned(x, y).Times(even) }
	if class != "lines" && l.Chance(0.6) {
		p.Haze = l.Ratio(1, 25)
	}
}

// lensBend is how much a lens bends at the most: half a percent (common practice, no source).
const lensBend = 0.005

// take sets the camera.
func (p *posed) take(class string) {
	l := p.l
	blur := max(0.5, p.pitch*l.Span(0.03, 0.14))
	c := camera.Camera{Blur: camera.Sigma{From: blur, To: blur, Down: p.H > p.W},
		Mosaic: texture.Pick(l, camera.Whole, camera.Bilinear, camera.Directed, camera.Directed),
		Curve:  l.Span(0, 0.2), Sharpen: l.Span(0, 1), Radius: l.Span(0.7, 1.6), Quality: 72 + l.IntN(26),
		Thin: texture.Pick(l, camera.Thin420, camera.Thin422)}
	reach := l.Ratio(1, 4) * p.long
	c.Sensor = camera.Sensor{FullWell: l.Ratio(2500, 30000), Read: l.Span(3, 9), Gains: [3]float64{0.55, 1, 0.65},
		Vignette: l.Span(0, 0.3), Reach: reach, AxisX: float64(p.W)/2 + l.Span(-0.4, 0.4)*reach,
		AxisY: float64(p.H)/2 + l.Span(-0.4, 0.4)*reach}
	switch class {
	case "noisy":
		c.Sensor.FullWell, c.Quality, c.Sharpen = l.Ratio(400, 2000), 60+l.IntN(16), l.Span(0.6, 1.8)
	case "tilted", "mixed":
		c.Blur.From, c.Blur.To = blur, min(0.26*p.pitch, blur*l.Span(1, 3))
		if l.Chance(0.5) {
			c.Blur.From, c.Blur.To = c.Blur.To, c.Blur.From
		}
	}
	p.Camera = c
	p.Lens = plane.Lens{Axis: plane.Point{X: c.Sensor.AxisX, Y: c.Sensor.AxisY}, Reach: reach,
		Bend: l.Span(-lensBend, lensBend)}
	p.Motion = p.Ruler.Scales[0].Step * l.Span(0, 0.25)
	p.Fade = l.Ratio(0.3, 6)
	if class == "moving" {
		p.Motion = p.Ruler.Scales[0].Step * l.Span(0.3, 0.95)
	}
}

// spoil adds what the class is named after.
func (p *posed) spoil(class string) {
	switch class {
	case "covered":
		p.cover(1 + p.l.IntN(3))
	case "glare":
		p.mirror()
	case "steel":
		p.Lighting.Glares = p.glares(p.l.IntN(2))
	case "dark":
		p.shade()
	case "worn":
		p.wear()
	case "folding":
		p.fold()
	case "mixed", WholeFrames:
		for _, k := range p.l.Perm(4)[:2] {
			[]func(){func() { p.cover(1) }, p.mirror, p.shade, p.wear}[k]()
		}
	}
}

// viewed is the part of the ruler in view, mm.
func (p *posed) viewed() (from, to float64) {
	from, to = p.view()
	return max(0, from), min(p.Ruler.Length, to)
}

func (p *posed) cover(n int) {
	l := p.l
	from, to := p.viewed()
	for range n {
		c := Cover{Kind: texture.Pick(l, "finger", "finger", "tape", "clamp"), P: l.Span(from, to), R: l.Span(6.5, 9.5),
			Slant: l.Span(-0.25, 0.25), grain: texture.NewGrain(l)}
		if l.Chance(0.2) { // over the end
			c.P = l.Span(-0.5, 0.8) * c.R
		}
		c.R = min(c.R, 0.12*(to-from))
		width := p.Ruler.Width
		c.FromQ, c.Q = -999, width*l.Span(0.2, 1.05)
		if l.Chance(0.5) {
			c.FromQ, c.Q = width+999, width*l.Span(-0.05, 0.8)
		}
		level := 0.8 / max(0.8, p.Lighting.Level)
		c.Colour = texture.Colour{0.55, 0.3, 0.2}.Mix(texture.Colour{0.25, 0.12, 0.07}, l.Float64()).Times(level)
		switch c.Kind {
		case "tape":
			c.R, c.FromQ, c.Q = c.R*l.Span(0.6, 1.6), width*l.Span(-0.4, 0), width*l.Span(1, 1.4)
			c.Colour = texture.Pick(l, texture.Colour{0.62, 0.53, 0.34}, texture.Grey(0.75), texture.Grey(0.02),
				texture.Colour{0.05, 0.1, 0.4}).Times(level)
			c.Clear = texture.Pick(l, 0, 0, 0.25)
		case "clamp":
			c.Colour = texture.Pick(l, texture.Grey(0.02), texture.Grey(0.2), texture.Colour{0.5, 0.12, 0.02}).Times(level)
		}
		p.Covers = append(p.Covers, c)
	}
}

func (p *posed) glares(n int) (list []Glare) {
	l := p.l
	from, to := p.viewed()
	for range n {
		list = append(list, Glare{At: l.Span(from, to), Slant: l.Span(-0.6, 0.6), Wide: l.Ratio(0.01, 0.08) * (to - from),
			Much: l.Ratio(0.2, 2) / p.Lighting.Level})
	}
	return list
}

// mirror lets the body mirror things: bands of light, and edges on the blank margin.
func (p *posed) mirror() {
	l := p.l
	p.Lighting.Glares = append(p.Lighting.Glares, p.glares(1+l.IntN(2))...)
	first := &p.Ruler.Scales[0]
	blank := first.Zero
	if first.Sense < 0 {
		blank += float64(first.From) * first.Step
	}
	for range 1 + l.IntN(2) {
		at := l.Span(0.1, 1.1) * max(blank, 3*first.Step)
		if l.Chance(0.3) {
			_, to := p.viewed()
			at = l.Span(0, to)
		}
		m := Mirror{At: at, Slant: l.Span(-0.08, 0.08), Wide: l.Ratio(0.1, 1.5), Much: l.Span(-0.6, 0.8),
			FromQ: -1, ToQ: p.Ruler.Width + 1}
		if l.Chance(0.4) {
			m.ToQ = l.Span(0.5, 0.9) * p.Ruler.Width
		}
		p.Lighting.Mirrors = append(p.Lighting.Mirrors, m)
	}
}

// shade leaves about a third of the ruler in the dark.
func (p *posed) shade() {
	l := p.l
	from, to := p.viewed()
	share, way := l.Span(0.2, 0.45), l.Sign()
	at := from + share*(to-from)
	if way > 0 {
		at = to - share*(to-from)
	}
	p.Lighting.Shades = append(p.Lighting.Shades, Shade{At: at, Slant: l.Span(-0.5, 0.5), Dark: l.Ratio(0.01, 0.12),
		Wide: l.Ratio(0.3, 0.3*(to-from)), Way: way})
}

// wear rubs print off, engraves it, or prints it twice.
func (p *posed) wear() {
	l, r := p.l, &p.Ruler
	switch l.IntN(3) {
	case 0:
		r.Wear = l.Span(0.5, 0.95)
	case 1:
		r.Material.Groove = l.Span(0.3, 0.6)
		r.Material.Ink = r.Material.Ink.Mix(r.Material.Body, l.Span(0.2, 0.6))
		r.Wear = l.Span(0, 0.5)
	case 2:
		r.Ghost, r.GhostBy = l.Span(0.2, 0.6), l.Sign()*l.Span(0.06, 0.2)*r.Scales[0].Step
	}
	r.Scratches = 20 + l.IntN(180)
}
