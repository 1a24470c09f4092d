package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"

	"leadmark/calib/plan/subject"
	"leadmark/vision/synth/animals"
	"leadmark/vision/synth/runs"
)

// bees is an invented shoot: which frames there are and which of them went wrong.
type bees struct {
	animals.Shoot
	Frames int
	Gone   int // the number of the one frame with no bee in it
	Sharp  int // one bee in so many flies through the plane in focus, the others before or behind it
}

// demoBees leave the tube of the demonstration's run and are taken with the same rig, framed as the
// plan of the manual's first evening has it: a field of 61 mm, aimed 29.7 mm past the trip point
// and 3.7 mm above it, little of it in focus. They fly somewhat faster than the preset says, so
// that there is something to learn.
func demoBees(seed uint64) bees {
	const width, height, scale = 1500.0, 1000.0, 24.59e3 // px, px, px/m
	rig := runs.DemoRun(0)
	set := animals.Set(seed, width, height)
	set.Ground, set.Exit, set.Perch, set.FullWell = animals.Green, true, false, 6000
	trip := [2]float64{math.Round(width/2 - 0.0297*scale), math.Round(height/2 + 0.0037*scale)}
	return bees{Frames: 24, Gone: 7, Sharp: 3,
		Shoot: animals.Shoot{Set: set, Kind: animals.Bee, Scale: scale, Trip: trip, Length: 0.012,
			Speed: 1.15, SpeedSD: 0.24, Elevation: 0.07, ElevationSD: 0.1, Lag: rig.Lag, Spread: rig.Spread,
			Exit: 0.006, Blur: 0.8, Tail: 10e-6, Seed: seed}}
}

// writeBees draws the frames, with shoot.toml, bee.toml and truth.json.
func writeBees(dir string, b bees) (frames int, err error) {
	subject, err := subject.PresetText("mason-bee")
	if err != nil {
		return 0, err
	}
	truth, err := json.MarshalIndent(map[string]float64{"speed_mps": b.Speed, "speed_sd_mps": b.SpeedSD,
		"lag_ms": b.Lag * 1e3, "spread_ms": b.Spread * 1e3}, "", "  ")
	if err != nil {
		return 0, err
	}
	if err := b.Write(dir, b.Frames, b.Frames, b.scene); err != nil {
		return 0, err
	}
	text := "rig = \"greenhouse\"\nsubject = \"bee.toml\"\n" + b.Describe()
	for name, text := range map[string][]byte{"shoot.toml": []byte(text), "bee.toml": subject,
		"truth.json": append(truth, '\n')} {
		err = errors.Join(err, os.WriteFile(filepath.Join(dir, name), text, 0o666))
	}
	if err != nil {
		return 0, fmt.Errorf("what belongs to the frames could not be written: %w", err)
	}
	return b.Frames, nil
}

func (b bees) scene(i int) animals.Scene {
	scene, _, _ := b.Frame(i)
	switch {
	case i+1 == b.Gone:
		scene.Animals = nil
	case (i+1)%b.Sharp != 0:
		scene.Animals[0].Defocus = 6
	}
	return scene
}
