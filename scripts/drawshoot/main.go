// Command drawshoot draws an invented shoot of mason bees that leave a nest tube, for leadmark
// check: frames, a frame of the empty set, shoot.toml and bee.toml. Frames beyond the number drawn
// are copies of those, for measuring time.
//
//	drawshoot DIR [-frames N] [-drawn N] [-width W] [-speed V]
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"leadmark/vision/synth/animals"
)

func main() {
	frames := flag.Int("frames", 30, "how many")
	drawn := flag.Int("drawn", 0, "of them drawn, the others copies; 0 for all")
	width := flag.Int("width", 1500, "of the pictures, px")
	speed := flag.Float64("speed", 1.3, "of the bees, m/s")
	seed := flag.Uint64("seed", 1, "of chance")
	flag.Parse()
	if flag.NArg() != 1 {
		fmt.Fprintln(os.Stderr, "name the folder to draw to")
		os.Exit(2)
	}
	if err := draw(flag.Arg(0), bees(*width, *speed, *seed), *frames, *drawn); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// bees are 12 mm long; the field is 100 mm wide.
func bees(width int, speed float64, seed uint64) animals.Shoot {
	w := float64(width)
	set := animals.Set(seed, width, width*2/3)
	set.Ground, set.Exit, set.Perch, set.FullWell = animals.Green, true, true, 1500
	return animals.Shoot{Set: set, Kind: animals.Bee, Scale: w / 0.1, Trip: [2]float64{0.06 * w, 0.31 * w},
		Length: 0.012, Speed: speed, SpeedSD: 0.2,
		Elevation: 0.03, ElevationSD: 0.05, Lag: 0.052, Spread: 0.0005, Exit: 0.004, Blur: 0.8, Tail: 10e-6, Seed: seed}
}

func draw(dir string, s animals.Shoot, frames, drawn int) error {
	if drawn == 0 {
		drawn = frames
	}
	scene := func(i int) animals.Scene {
		scene, _, _ := s.Frame(i)
		return scene
	}
	if err := s.Write(dir, frames, drawn, scene); err != nil {
		return err
	}
	return describe(dir, s)
}

func describe(dir string, s animals.Shoot) error {
	shoot := "subject = \"bee.toml\"\n" + s.Describe()
	bee := "name = \"mason bee leaving a tube\"\nlength_mm = 12\nheight_mm = 7\nwidth_mm = 8\nmotion = " +
		"\"straight\"\nspeed_mps = 1.1\nspeed_sd_mps = 0.2\nelevation_deg = 2\nelevation_sd_deg = " +
		"4\nazimuth_sd_deg = 0\nexit_mm = [4, 4]\n[sources]\nspeed_mps = \"invented\"\n"
	for name, text := range map[string]string{"shoot.toml": shoot, "bee.toml": bee} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			return err
		}
	}
	return nil
}
