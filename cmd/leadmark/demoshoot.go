package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"leadmark/animal/animaltest"
	"leadmark/plan"
	"leadmark/ruler/rulertest"
)

// bees is an invented shoot: which frames there are and which of them went wrong.
type bees struct {
	animaltest.Shoot
	Frames int
	Gone   int // the number of the one frame with no bee in it
	Soft   int // every so many frames a bee flies out of focus
}

// demoBees leave the tube of the demonstration's run and are taken with the same rig. The field is 100 mm wide. They fly
// somewhat faster than the preset says, so that there is something to learn.
func demoBees(seed uint64) bees {
	const width = 1500.0
	rig := rulertest.DemoRun(0)
	set := animaltest.Set(seed, width, 1000)
	set.Ground, set.Exit, set.Perch, set.FullWell = animaltest.Green, true, true, 6000
	return bees{Frames: 24, Gone: 7, Soft: 5,
		Shoot: animaltest.Shoot{Set: set, Kind: animaltest.Bee, Scale: width / 0.1, Trip: [2]float64{0.09 * width, 0.31 * width}, Length: 0.012,
			Speed: 1.15, SpeedSD: 0.24, Elevation: 0.07, ElevationSD: 0.1, Lag: rig.Lag, Spread: rig.Spread, Exit: 0.006, Blur: 0.8, Tail: 10e-6, Seed: seed}}
}

// writeBees draws the frames, with shoot.toml, bee.toml and truth.json.
func writeBees(dir string, b bees) (frames int, err error) {
	subject, err := plan.PresetText("mason-bee")
	if err != nil {
		return 0, err
	}
	truth, err := json.MarshalIndent(map[string]float64{"speed_mps": b.Speed, "speed_sd_mps": b.SpeedSD, "lag_ms": b.Lag * 1e3, "spread_ms": b.Spread * 1e3}, "", "  ")
	if err != nil {
		return 0, err
	}
	if err := b.Write(dir, b.Frames, b.Frames, b.scene); err != nil {
		return 0, err
	}
	text := "rig = \"greenhouse\"\nsubject = \"bee.toml\"\n" + b.Describe()
	for name, text := range map[string][]byte{"shoot.toml": []byte(text), "bee.toml": subject, "truth.json": append(truth, '\n')} {
		err = errors.Join(err, os.WriteFile(filepath.Join(dir, name), text, 0o666))
	}
	if err != nil {
		return 0, fmt.Errorf("what belongs to the frames could not be written: %w", err)
	}
	return b.Frames, nil
}

func (b bees) scene(i int) animaltest.Scene {
	scene, _, _ := b.Frame(i)
	switch {
	case i+1 == b.Gone:
		scene.Animals = nil
	case (i+1)%b.Soft == 0:
		scene.Animals[0].Defocus = 5
	}
	return scene
}
