package animals

import (
	"image"
	"math"
	"math/rand/v2"
)

// Ground is the colour of the backdrop.
type Ground int

// The backdrops there are.
const (
	Blue Ground = iota
	Green
	Grey
	Black
)

// Animal is one animal to draw. Lengths in pixels.
type Animal struct {
	Kind    Kind
	Length  float64
	Nose    [2]float64 // where it stands when half the flash's light is given off
	Heading float64    // rad, 0 to the right, up positive
	Defocus float64    // standard deviation of a Gaussian
	Tail    float64    // decay length of the motion blur along Way
	Way     float64    // rad, of the motion blur; the heading where the animal's own motion makes it
	Seed    uint32
}

// Scene is one photograph.
type Scene struct {
	Width, Height int
	Ground        Ground
	Uneven        float64 // relative fall of the light to one side
	Shadow        float64 // depth of the animals' shadow on the backdrop
	Spill         float64 // share of the backdrop's light on the animals' rims
	FullWell      float64 // electrons at white; 0 for no noise
	Gain          float64 // of the flash in this frame; 1 is usual
	Exit, Perch   bool
	Animals       []Animal
	Seed          uint64
}

// Truth is what is known of a drawn animal.
type Truth struct {
	// x of the body's foremost part for a travel to the right, legs and antennae not counted, half
	// the light given off
	Front   float64
	Mask    []bool // half covered or more, over the whole picture
	Touches bool   // some of it is cut by the picture's edge
	Area    int
	Box     [4]float64 // smallest and largest x, smallest and largest y of Mask
}

func (g Ground) colour() rgb {
	return [...]rgb{{0.02, 0.06, 0.35}, {0.03, 0.25, 0.05}, {0.2, 0.2, 0.2}, {0.004, 0.004, 0.005}}[g]
}

// Render draws a scene as an 8-bit picture (sRGB tones, IEC 61966-2-1) with the truth of its animals.
func Render(s Scene) (*image.RGBA, []Truth) {
	light := s.backdrop()
	var truths []Truth
	for _, a := range s.Animals {
		pad := int(4*a.Defocus+7*a.Tail) + 4
		l := drawn(a, pad)
		l = l.motionBlur(math.Cos(a.Way), -math.Sin(a.Way), a.Tail)
		s.shade(light, l, a.Length)
		l.soften(max(a.Defocus, 0.45)) // optics and sensor blur a little even in focus
		s.lay(light, l)
		truths = append(truths, s.truth(l, a))
	}
	return s.develop(light), truths
}

// backdrop is the empty set in linear light.
func (s *Scene) backdrop() []float32 {
	light := make([]float32, 3*s.Width*s.Height)
	c := s.Ground.colour()
	w, h := float64(s.Width), float64(s.Height)
	for y := range s.Height {
		for x := range s.Width {
			u, v := float64(x)/w, float64(y)/h
			k := 1 - s.Uneven*(0.6*u+0.8*(v-0.4)*(v-0.4)+0.3*u*v)
			p := light[3*(y*s.Width+x):][:3]
			colour := s.furniture(u, v*h/w, c)
			for i := range p {
				p[i] = float32(colour[i] * k)
			}
		}
	}
	return light
}

// furniture is the set's own colour at a place in picture widths.
func (s *Scene) furniture(u, v float64, c rgb) rgb {
	if s.Exit {
		switch r := math.Hypot(u+0.01, v-0.3); {
		case r < 0.05:
			return rgb{0.01, 0.009, 0.008}
		case r < 0.075:
			return rgb{0.3, 0.22, 0.12}
		}
	}
	if s.Perch && v > 0.57+0.05*u && v < 0.6+0.05*u {
		k := 0.7 + 0.6*grain(u*200, v*50, 3)
		return rgb{0.2 * k, 0.12 * k, 0.06 * k}
	}
	return c
}

// shade darkens the backdrop by an animal's soft shadow.
func (s *Scene) shade(light []float32, l *layer, length float64) {
	if s.Shadow == 0 {
		return
	}
	m := l.shadow(0.1 * length)
	dx, dy := int(0.35*length), int(0.45*length)
	s.each(l, dx, dy, func(i, j int) {
		k := 1 - float32(s.Shadow)*m[j]
		light[3*i], light[3*i+1], light[3*i+2] = light[3*i]*k, light[3*i+1]*k, light[3*i+2]*k
	})
}

// each visits the pixels of a layer, moved by whole pixels, that lie in the picture: i in the
// picture, j in the layer.
func (s *Scene) each(l *layer, dx, dy int, visit func(i, j int)) {
	for y := range l.h {
		py := l.y0 + y + dy
		if py < 0 || py >= s.Height {
			continue
		}
		for x := range l.w {
			if px := l.x0 + x + dx; px >= 0 && px < s.Width {
				visit(py*s.Width+px, y*l.w+x)
			}
		}
	}
}

// lay puts an animal over the backdrop; where it is half transparent, and on its rims, the
// backdrop's light spills on it.
func (s *Scene) lay(light []float32, l *layer) {
	s.each(l, 0, 0, func(i, j int) {
		p := l.pix[planes*j:][:planes]
		if p[3] == 0 {
			return
		}
		rim := float32(s.Spill) * p[3] * (1 - 0.7*p[3])
		for c := range 3 {
			back := light[3*i+c]
			light[3*i+c] = back*(1-p[3]) + p[c] + rim*back
		}
	})
}

func (s *Scene) truth(l *layer, a Animal) Truth {
	t := Truth{Front: front(a), Mask: make([]bool, s.Width*s.Height),
		Box: [4]float64{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}}
	s.each(l, 0, 0, func(i, j int) {
		if l.pix[planes*j+covered] < 0.5 {
			return
		}
		x, y := i%s.Width, i/s.Width
		t.Mask[i] = true
		t.Area++
		t.Box = [4]float64{min(t.Box[0], float64(x)), max(t.Box[1], float64(x)), min(t.Box[2], float64(y)),
			max(t.Box[3], float64(y))}
		t.Touches = t.Touches || x == 0 || y == 0 || x == s.Width-1 || y == s.Height-1
	})
	return t
}

// develop adds noise and turns light into tones.
func (s *Scene) develop(light []float32) *image.RGBA {
	im := image.NewRGBA(image.Rect(0, 0, s.Width, s.Height))
	r := rand.New(rand.NewPCG(s.Seed, 77))
	normals := make([]float32, 1<<14)
	for i := range normals {
		normals[i] = float32(r.NormFloat64())
	}
	tones := toneTable()
	gain := s.Gain
	if gain == 0 {
		gain = 1
	}
	for i := range s.Width * s.Height {
		draw := r.Uint64()
		for c := range 3 {
			x := light[3*i+c] * float32(gain)
			if s.FullWell > 0 {
				x += float32(math.Sqrt(float64(max(0,
					x))/s.FullWell+64/(s.FullWell*s.FullWell))) * normals[draw>>(20*c)&(1<<14-1)]
			}
			im.Pix[4*i+c] = tones[max(0, min(len(tones)-1, int(x*float32(len(tones)-1)+0.5)))]
		}
		im.Pix[4*i+3] = 255
	}
	return im
}

func toneTable() []uint8 {
	t := make([]uint8, 1<<14)
	for i := range t {
		x := float64(i) / float64(len(t)-1)
		y := 12.92 * x
		if x > 0.0031308 {
			y = 1.055*math.Pow(x, 1/2.4) - 0.055
		}
		t[i] = uint8(math.Round(255 * y))
	}
	return t
}

// front is how far to the right the ellipses of the body reach.
func front(a Animal) float64 {
	far := math.Inf(-1)
	sin, cos := math.Sincos(a.Heading)
	for _, p := range parts(a.Kind) {
		if p.body {
			turn := a.Heading + p.turn
			x := cos*p.u - sin*p.v
			far = max(far, x+math.Hypot(p.ru*math.Cos(turn), p.rv*math.Sin(turn)))
		}
	}
	return a.Nose[0] + far*a.Length
}
