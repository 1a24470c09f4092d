package knock

import (
	"fmt"
	"image"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"

	"leadmark/vision/synth/jpegfile"
)

// Spec is a run.
type Spec struct {
	Seed     uint64
	Move     Move
	After    int     // frames before the camera was moved
	Frames   int     // in all
	Track    float64 // m, from the lens to the track
	Backdrop float64 // m, from the lens to the backdrop
	Contrast float64 // standard deviation of the backdrop's tone
}

// Frame is what is true of one.
type Frame struct {
	File    string
	Advance float64 // m, of the front end past the line stated in run.toml, along the ruler
	Moved   bool
}

const (
	width, height = 1500, 1000
	focal         = 2.55 * width // px: a lens of 60 mm before a sensor of 23.5 mm
	gravity       = 9.80665
)

// shot is a frame to be drawn.
type shot struct {
	drop    float64 // m
	advance float64 // m, along x, of the front end's middle past x = trip
	across  float64 // m, of the ruler's middle
	tilt    float64 // rad
	gain    float64
	cam     camera
}

// Write draws a run into a folder: the frames, run.toml and shots.csv.
func Write(dir string, s Spec) ([]Frame, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("making the run's folder: %w", err)
	}
	rnd := rand.New(rand.NewPCG(s.Seed, 0x6b6e6f636b))
	first := camera{w: width, h: height, focal: focal}.moved(Move{})
	then := first.moved(s.Move)
	trip := -0.32 * width / focal * s.Track
	cloth := weave(rnd, 2.2*s.Backdrop*width/focal, 2*s.Backdrop/focal, s.Contrast)
	backs := map[bool][]float64{}
	for moved, c := range map[bool]camera{false: first, true: then} {
		backs[moved] = c.sees(cloth, s.Backdrop)
	}
	var truth []Frame
	csv := "frame,drop_mm\n"
	for i := range s.Frames {
		sh := aShot(rnd, i)
		if sh.cam = first; i >= s.After {
			sh.cam = then
		}
		f := Frame{File: fmt.Sprintf("IMG_%04d.JPG", i+1), Advance: sh.advance / math.Cos(sh.tilt), Moved: i >= s.After}
		im := sh.draw(rnd, backs[f.Moved], trip, s.Track)
		if err := jpegfile.Write(filepath.Join(dir, f.File), im, jpegfile.Exif{}, 92); err != nil {
			return nil, err
		}
		truth = append(truth, f)
		csv += fmt.Sprintf("%s,%.6g\n", f.File, 1e3*sh.drop)
	}
	return truth, s.describe(dir, csv, first, trip)
}

// aShot lets the ruler fall, from three heights by turns.
func aShot(rnd *rand.Rand, i int) shot {
	s := shot{drop: []float64{0.08, 0.2, 0.4}[i%3], gain: 1 + 0.02*rnd.NormFloat64()}
	tau := 0.030 + 0.0007*rnd.NormFloat64()
	s.advance = math.Sqrt(2*gravity*s.drop)*tau + gravity*tau*tau/2
	s.across, s.tilt = 3e-4*rnd.NormFloat64(), 0.004*rnd.NormFloat64()
	return s
}

func (s Spec) describe(dir, csv string, c camera, trip float64) error {
	ax, ay := c.shows(vec{trip, -body / 2, s.Track})
	bx, by := c.shows(vec{trip, body / 2, s.Track})
	var b strings.Builder
	fmt.Fprintf(&b, "rig = \"greenhouse\"\nmethod = \"drop\"\ntravel = \"right\"\n\n[ruler]\ngraduation_mm = 1\nfront_mm = 0\n")
	fmt.Fprintf(&b, "\n[trip]\nline_px = [[%.4f, %.4f], [%.4f, %.4f]]\nu_mm = 0.5\n", ax, ay, bx, by)
	fmt.Fprintf(&b, "\n[conditions]\ngravity_mps2 = %.5f\nu_drop_mm = 0.5\n", gravity)
	for name, text := range map[string]string{"run.toml": b.String(), "shots.csv": csv} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			return fmt.Errorf("writing the run: %w", err)
		}
	}
	return nil
}

// rays is how many rays a side each pixel is the mean of.
const rays = 2

// sees is the picture of a surface at depth z.
func (c camera) sees(t texture, z float64) []float64 {
	out := make([]float64, c.w*c.h)
	for i := range out {
		out[i] = mean(func(dx, dy float64) float64 {
			return t.at(c.hits(float64(i%c.w)+dx, float64(i/c.w)+dy, z))
		})
	}
	return out
}

// mean is that over the rays of a pixel.
func mean(f func(dx, dy float64) float64) (sum float64) {
	for k := range rays * rays {
		sum += f((float64(k%rays)+0.5)/rays-0.5, (float64(k/rays)+0.5)/rays-0.5) / (rays * rays)
	}
	return sum
}

// body is the ruler's width, m.
const body = 0.028

// draw is the picture of a shot before the backdrop's.
func (s shot) draw(rnd *rand.Rand, back []float64, trip, z float64) *image.RGBA {
	c := s.cam
	im := image.NewRGBA(image.Rect(0, 0, c.w, c.h))
	sin, cos := math.Sincos(s.tilt)
	for i := range back {
		tone := back[i]
		px, py := float64(i%c.w), float64(i/c.w)
		if _, y := c.hits(px, py, z); math.Abs(y-s.across) < body {
			tone = mean(func(dx, dy float64) float64 {
				x, y := c.hits(px+dx, py+dy, z)
				x, y = x-trip-s.advance, y-s.across
				along, across := x*cos+y*sin, y*cos-x*sin
				if along > 0 || math.Abs(across) > body/2 {
					return back[i]
				}
				return face(-along, across+body/2)
			})
		}
		v := uint8(math.Max(0, math.Min(255, 255*s.gain*tone+1.5*rnd.NormFloat64()+0.5)))
		im.Pix[4*i], im.Pix[4*i+1], im.Pix[4*i+2], im.Pix[4*i+3] = v, v, v, 255
	}
	return im
}

// face is the tone of the ruler so far from its front end and from its upper edge.
func face(reading, down float64) float64 {
	k := math.Round(reading / 1e-3)
	length := 0.004
	switch n := int(k); {
	case n%10 == 0:
		length = 0.009
	case n%5 == 0:
		length = 0.0065
	}
	if k > 0 && math.Abs(reading-k*1e-3) < 1.1e-4 && down < length {
		return 0.12
	}
	return 0.82
}
