package studies

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"

	"leadmark/vision/ruler"
	"leadmark/vision/synth/jpegfile"
	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/paint"
	"leadmark/vision/synth/photo"
	"leadmark/vision/synth/runs"
)

// lens is the focal length that the gallery's files tell of, m.
const lens = 0.060

// Single is one named scene of the gallery.
type Single struct {
	Name string
	photo.Scene
}

// Gallery returns single pictures of every look, turned in the plane to any of the four ways and 10
// degrees beside it, out of the plane by up to 15 degrees, over every backdrop, sharp to fairly
// blurred.
func Gallery(seed int64) []Single {
	backdrops := []photo.Backdrop{{Kind: photo.Cloth}, {Kind: photo.Card}, {Kind: photo.Foliage},
		{Kind: photo.Planks}, {Kind: photo.Soil},
		{Kind: photo.Plain, Colour: paint.RGB{R: 0.1, G: 0.22, B: 0.42}},
		{Kind: photo.Plain, Colour: paint.RGB{R: 0.08, G: 0.25, B: 0.1}}}
	travels := []string{"right", "down", "left", "up"}
	var out []Single
	for i, look := range looks.All() {
		for j := range 2 {
			rnd := rand.New(rand.NewPCG(uint64(seed), uint64(2*i+j)+1000))
			s := gallerySoloist(rnd, look, travels[(i+j)%4], j)
			s.Backdrop = backdrops[(i+3*j)%len(backdrops)]
			s.Backdrop.Behind = 0.1
			s.Seed = uint64(seed)*100 + uint64(2*i+j)
			out = append(out, Single{fmt.Sprintf("%02d-%d", i+1, j+1), s})
		}
	}
	return out
}

// gallerySoloist poses one ruler; hard 0 is easy, 1 turned far, blurred and noisy.
func gallerySoloist(rnd *rand.Rand, look looks.Look, travel string, hard int) photo.Scene {
	k := float64(hard)
	span := func(a, b float64) float64 { return a + (b-a)*rnd.Float64() }
	s := photo.Scene{Look: look, Speed: span(1, 2+k), Exposure: 0.005, Softness: span(0.6, 0.9+0.7*k), Shadow: 40}
	s.Camera = photo.Camera{Width: 2400, Height: 1600, FocalPX: 6000, K1: -0.02 * k,
		Centre: ruler.Point{X: 1200, Y: 800}}
	if travel == "up" || travel == "down" {
		s.Camera.Width, s.Camera.Height = 1600, 2400
		s.Camera.Centre = ruler.Point{X: 800, Y: 1200}
	}
	perMM := span(11, 17)
	if look.Graduation() < 0.9*mm {
		perMM = span(17, 22)
	}
	s.Track = photo.Track{Trip: photo.Vec{Z: 6000 / (perMM * 1000)}, Travel: travel,
		Tilt: span(-1, 1) * (2 + 8*k) * deg,
		Yaw:  span(-1, 1) * (3 + 12*k) * deg, Roll: span(-1, 1) * (3 + 12*k) * deg}
	s.Pose = photo.Pose{Advance: span(10, 25) * mm, Lateral: span(-5, 5) * mm}
	head := photo.Vec{X: span(-0.2, 0.2), Y: span(-0.3, -0.1), Z: span(-0.1, 0.15)}
	if hard > 0 && look.Gloss > 0.2 { // the head where a flat face mirrors it
		head = photo.Vec{X: span(-0.04, 0.04), Y: -0.06}
	}
	s.Flash = photo.Flash{Head: head, Power: 0.85, Fill: 0.1, Pulse: photo.TailFor(span(50, 100+60*k) * 1e-6)}
	s.Sensor = photo.Sensor{FullWell: 15000 - 10000*k, Read: 10, Vignette: 0.5}
	s.Ambient = 0.006 * k
	return s
}

// WriteGallery draws the gallery into a folder, with truth.json: a list in the form of FrameTruth.
func WriteGallery(dir string, seed int64) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("making the gallery's folder: %w", err)
	}
	type entry struct {
		Look         string  `json:"look"`
		GraduationMM float64 `json:"graduation_mm"`
		FrontMM      float64 `json:"front_mm"`
		Travel       string  `json:"travel"`
		runs.FrameTruth
	}
	var all []entry
	for _, g := range Gallery(seed) {
		im, t := photo.Render(g.Scene)
		name := g.Name + ".jpg"
		x := jpegfile.Exif{Make: "Greenhouse", Model: "Test camera", FNumber: 11, ISO: 200, Exposure: g.Exposure,
			Focal: lens, Fired: true, Orientation: 1}
		if err := jpegfile.Write(filepath.Join(dir, name), im, x, 90); err != nil {
			return err
		}
		all = append(all, entry{g.Look.Name, g.Look.Graduation() / mm, g.Look.Front() / mm, g.Track.Travel,
			runs.TruthOf(name, t)})
	}
	text, err := json.MarshalIndent(all, "", " ")
	if err != nil {
		return fmt.Errorf("writing truth.json: %w", err)
	}
	return os.WriteFile(filepath.Join(dir, "truth.json"), text, 0o644)
}
