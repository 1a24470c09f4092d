package studies

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"leadmark/vision/ruler"
	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/paint"
	"leadmark/vision/synth/photo"
)

const (
	mm  = 1e-3
	deg = math.Pi / 180
)

// Frame is one picture of the study of readings, with what a run would say of it.
type Frame struct {
	Class   string // what makes it difficult
	Text    string // a few words on the rest
	Scene   photo.Scene
	Truth   photo.Truth // known before the picture is drawn
	Quality int         // of the JPEG; 0 for PNG, which adds no error of its own
}

// Classes are the difficulty classes of readable single pictures.
func Classes() []string {
	return []string{"clean", "plain", "tilted", "blurred", "dim", "hidden", "shadow", "small", "large"}
}

// At poses one readable picture of a class: scenes are drawn by chance until one is
// readable by the rule of Legible, which knows the scene and no picture of it.
func At(class string, seed, number uint64) Frame {
	for try := uint64(0); ; try++ {
		rnd := rand.New(rand.NewPCG(seed^uint64(slices.Index(Classes(), class))<<40, number<<16|try))
		f := drawn(class, rnd)
		f.Scene.Seed, f.Scene.Shot = seed*1_000_003+number, number
		if f.Truth = f.Scene.Foretell(); f.Scene.Legible(f.Truth) == "" {
			f.Text = words(&f.Scene, f.Truth)
			return f
		}
	}
}

func words(s *photo.Scene, t photo.Truth) string {
	pitch := t.PxPerMM * s.Look.Graduation() / mm
	return fmt.Sprintf("%s, %s, %s; %d x %d; %.1f px a graduation, blur %.2f of it, %d to be seen", s.Look.Name,
		s.Backdrop.Kind,
		s.Track.Travel, s.Camera.Width, s.Camera.Height, pitch, t.BlurPX/pitch, len(t.Graduations))
}

// setting is how difficult a class makes each thing.
type setting struct {
	pitch      [2]float64 // px a graduation
	turn       float64    // degrees, at most, of tilt, yaw and roll
	blur       [2]float64 // standard deviation in graduations
	falloff    [2]float64 // stops over the part of the ruler in view
	wells      [2]float64 // electrons at white
	ambient    float64    // at most
	grips, all bool       // something hides a part; looks and backdrops of every kind
	shadow     [2]float64 // px that the shadow falls off
	still      bool       // nothing moves: the blur is the lens's alone
}

// settingOf says what the classes are.
func settingOf(class string) setting {
	s := setting{pitch: [2]float64{6, 20}, turn: 4, blur: [2]float64{0.03, 0.15}, falloff: [2]float64{0, 1},
		wells: [2]float64{5000, 16000}, all: true, shadow: [2]float64{30, 60}}
	switch class {
	case "clean":
		s.pitch, s.turn, s.wells, s.all, s.shadow = [2]float64{8, 16}, 1.5, [2]float64{500, 5000}, false, [2]float64{}
		s.blur, s.falloff, s.still = [2]float64{0.06, 0.12}, [2]float64{0, 0.2}, true
	case "tilted":
		s.turn = 15
	case "blurred":
		s.blur, s.turn = [2]float64{0.15, 0.33}, 8
	case "dim":
		s.falloff, s.wells, s.ambient = [2]float64{1.5, 3}, [2]float64{1500, 5000}, 0.02
	case "hidden":
		s.grips = true
	case "shadow":
		s.shadow = [2]float64{3, 40}
	case "small":
		s.pitch, s.turn = [2]float64{3, 6}, 8
	case "large":
		s.pitch, s.turn, s.blur = [2]float64{20, 40}, 8, [2]float64{0.02, 0.2}
	}
	return s
}

// drawn draws one scene of a class, readable or not.
func drawn(class string, rnd *rand.Rand) Frame {
	c, set := paint.NewChance(rnd), settingOf(class)
	s := photo.Scene{Look: aLook(c, set.all), Backdrop: aBackdrop(c, set.all)}
	pitch := c.Scale(set.pitch[0], set.pitch[1])
	perM := pitch / s.Look.Graduation()
	turn := func() float64 { return c.Span(-set.turn, set.turn) * deg }
	s.Track = photo.Track{Travel: []string{"right", "left", "up", "down"}[c.IntN(4)], Tilt: turn(), Yaw: turn(),
		Roll: turn()}
	stage(&s, c, perM)
	lightUp(&s, c, set)
	s.Shadow, s.Penumbra = c.Span(set.shadow[0], set.shadow[1]), c.Scale(2, 20)
	s.Sensor = photo.Sensor{FullWell: c.Scale(set.wells[0], set.wells[1]), Read: 10, Vignette: c.Span(0, 0.7)}
	if set.ambient > 0 {
		s.Ambient = c.Span(0, set.ambient)
	}
	if set.grips {
		hide(&s, c, perM)
	}
	blurBy(&s, c, c.Span(set.blur[0], set.blur[1])*pitch, set.still)
	f := Frame{Class: class, Scene: s, Quality: 80 + c.IntN(16)}
	if class == "clean" { // nothing but blur and noise
		f.Quality, f.Scene.Camera.K1 = 0, 0
	}
	return f
}

// aLook picks a kind of ruler; where not of all kinds, one without texture, wear, bevel or holes.
func aLook(c paint.Chance, all bool) looks.Look {
	if !all {
		l := []looks.Look{looks.WhitePlastic(), looks.TurnedRound(looks.WhitePlastic()), looks.InchRule(16),
			looks.TwoScales()}[c.IntN(4)]
		l.Bevel = 0 // it darkens the last quarter of a millimetre, which is no step
		return l
	}
	kinds := append(looks.All(), looks.Coded(0.3), looks.TurnedRound(looks.Steel()),
		looks.TurnedRound(looks.TwoScales()))
	return kinds[c.IntN(len(kinds))]
}

func aBackdrop(c paint.Chance, all bool) photo.Backdrop {
	far := c.Span(0.03, 0.2)
	if !all {
		return photo.Backdrop{Kind: photo.Plain, Colour: paint.Grey(c.Span(0.02, 0.15)), Behind: far}
	}
	kinds := []photo.BackdropKind{photo.Cloth, photo.Card, photo.Foliage, photo.Planks, photo.Soil, photo.Plain}
	b := photo.Backdrop{Kind: kinds[c.IntN(len(kinds))], Behind: far}
	if b.Kind == photo.Plain {
		b.Colour = paint.RGB{R: c.Span(0.01, 0.3), G: c.Span(0.01, 0.3), B: c.Span(0.01, 0.3)}
	}
	return b
}

// stage places camera and ruler: 35 to 110 graduations in view, the front end before the far
// border of the picture, the ruler's whole width and some backdrop beside it.
func stage(s *photo.Scene, c paint.Chance, perM float64) {
	g := s.Look.Graduation()
	long := max(700, min(2400, c.Span(35, 110)*g*perM))
	wide := s.Look.Width*perM*1.15 + long*math.Abs(math.Sin(s.Track.Tilt)) + 60
	wide = max(300, min(2600, wide))
	k := photo.Camera{Width: int(long), Height: int(wide), K1: c.Span(-0.03, 0.03)}
	if s.Track.Travel == "up" || s.Track.Travel == "down" {
		k.Width, k.Height = k.Height, k.Width
	}
	away := c.Span(0.25, 0.8)
	k.FocalPX = away * perM
	k.Centre = ruler.Point{X: float64(k.Width-1)/2 + c.Span(-3, 3), Y: float64(k.Height-1)/2 + c.Span(-3, 3)}
	s.Camera = k
	// The trip point lies at the picture's middle, a little to one side.
	s.Track.Trip = photo.Vec{Z: away}
	half := long / 2 / perM
	s.Pose = photo.Pose{Advance: half * c.Span(0.1, 0.8), Lateral: c.Span(-0.04, 0.04) * s.Look.Width,
		Tilt: c.Span(-0.5, 0.5) * deg, Depth: c.Span(-1, 1) * mm}
}

// lightUp sets the head such that the light falls off along the ruler by so many stops, and its
// power such that the brightest part in view is just not blown out.
func lightUp(s *photo.Scene, c paint.Chance, set setting) {
	stops := c.Span(set.falloff[0], set.falloff[1])
	f := s.Track.Basis()
	reach := reachInView(s)
	bright, dark := s.Track.Trip.Add(f.A.Mul(reach[0])), s.Track.Trip.Add(f.A.Mul(reach[1]))
	if c.IntN(2) == 0 {
		bright, dark = dark, bright
	}
	s.Flash.Fill = c.Span(0.02, 0.1)
	side, over := c.Either(c.Span(0.2, 0.6)), c.Span(-0.3, 0.1)
	way := bright.Sub(dark).Unit()
	best := math.Inf(1)
	for away := 0.03; away < 1.5; away *= 1.1 { // the nearer, the steeper
		h := bright.Sub(f.N.Mul(away)).Add(f.B.Mul(side * away)).Add(way.Mul(over * away))
		try := photo.Flash{Head: h, Power: 1, Fill: s.Flash.Fill}
		got := math.Log2(try.Irradiance(bright, f.N, s.Track.Trip) / try.Irradiance(dark, f.N, s.Track.Trip))
		if d := math.Abs(got - stops); d < best {
			best, s.Flash.Head = d, h
		}
	}
	most := 0.0
	for i := range 21 {
		p := s.Track.Trip.Add(f.A.Mul(reach[0] + (reach[1]-reach[0])*float64(i)/20))
		most = max(most, s.Flash.Irradiance(p, f.N, s.Track.Trip))
	}
	s.Flash.Power = c.Span(0.6, 1.05) / most
}

// reachInView is where the ruler in view begins and ends, m along it from the trip point.
func reachInView(s *photo.Scene) [2]float64 {
	long := float64(s.Camera.Width)
	if s.Track.Travel == "up" || s.Track.Travel == "down" {
		long = float64(s.Camera.Height)
	}
	half := long / 2 / s.Camera.FocalPX * s.Track.Trip.Z
	return [2]float64{-s.Pose.Advance, half}
}

// hide puts fingers, a clamp, a sleeve or the block of the exit over a part of the ruler.
func hide(s *photo.Scene, c paint.Chance, perM float64) {
	g := s.Look.Graduation()
	from := s.Look.Front() + c.Span(26, 45)*g
	switch kind := []string{"fingers", "clamp", "sleeve", "block"}[c.IntN(4)]; kind {
	case "block":
		s.Block = &photo.Block{Gap: s.Pose.Advance*c.Span(-0.5, 0) + c.Span(5, 30)*g, Front: true, Bore: 8 * mm}
	default:
		s.Grips = []photo.Grip{{Kind: kind, At: from}}
	}
}

// blurBy shares a blur, px, between lens and movement.
func blurBy(s *photo.Scene, c paint.Chance, blur float64, still bool) {
	blur = max(blur, 0.5)
	share := c.Span(0, 0.9)
	if still {
		share = 0
	}
	s.Softness = max(0.5, blur*math.Sqrt(1-share*share))
	if blur > 2 && c.IntN(2) == 0 { // out of focus: a disk, whose standard deviation is half its radius
		s.Disk, s.Softness = 2*math.Sqrt(max(0, s.Softness*s.Softness-0.36)), 0.6
	}
	s.Exposure = 0.005
	s.Flash.Pulse = photo.TailFor(50e-6)
	if s.Speed = c.Span(0.5, 3); still {
		s.Speed = 0
		return
	}
	way := s.FrontVelocity().Len()
	// The standard deviation of an exponential tail of constant k is k; t0.1 is 2.3 of it.
	s.Flash.Pulse = photo.TailFor(min(400e-6, 2.3*share*blur/way))
}
