package runs

import (
	"math"
	"math/rand/v2"

	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/paint"
	"leadmark/vision/synth/photo"
)

const (
	mm  = 1e-3
	deg = math.Pi / 180
)

// DemoRun is the invented run of the demonstration: the exit of a nest tube of solitary bees in a
// greenhouse, a white ruler dropped through the beam from four heights, six times each, and three
// frames gone wrong.
func DemoRun(seed int64) RunSpec {
	return RunSpec{Name: "demo", Rig: "greenhouse", Method: "drop", Drops: []float64{0.1, 0.2, 0.4, 0.7}, Shots: 6,
		Lag: 38.4e-3, Spread: 0.7e-3, UDrop: 0.5 * mm, UDropShot: 0.4 * mm, UDropCommon: 0.5 * mm,
		Travel: "right", Tilt: 1.5 * deg, Yaw: 1 * deg, Roll: -1 * deg, Loose: 0.6,
		Look:     looks.TurnedRound(looks.WhitePlastic()),
		Backdrop: photo.Backdrop{Kind: photo.Foliage}, Block: &photo.Block{Gap: 20 * mm, Bore: 8 * mm},
		Odd: []string{"dark", "false-trip", "no-ruler"}, Width: 3264, Height: 2176,
		T01: 110e-6, Softness: 0.9, Falloff: 0.3, Ambient: 0.003, FullWell: 16000, K1: -0.02, Quality: 85, Seed: seed}
}

// TwelveRuns are runs of every method, with rulers of many looks, the four ways of travel, tilts to
// 8 degrees, files stored turned, and frames gone wrong among them. Lag, spread and offsets are
// drawn by the seed.
func TwelveRuns(seed int64) []RunSpec {
	runs := append(drops(), pushes()...)
	for i := range runs {
		r := &runs[i]
		rnd := rand.New(rand.NewPCG(uint64(seed), uint64(i)+1))
		r.Seed = seed*1000 + int64(i)
		r.Lag = (24 + 20*rnd.Float64()) * 1e-3
		r.Spread = (0.3 + 0.8*rnd.Float64()) * 1e-3
		if r.Trip != "" {
			r.TripOffset = (rnd.Float64() - 0.5) * 1.2 * mm
		}
		r.T01 = (70 + 100*rnd.Float64()) * 1e-6
		r.Softness = 0.65 + 0.4*rnd.Float64()
		r.FullWell = 4000 + 14000*rnd.Float64()
		r.Falloff = max(r.Falloff, 0.5*rnd.Float64())
		r.Yaw, r.Roll = 2*deg*rnd.NormFloat64(), 2*deg*rnd.NormFloat64()
		r.Loose = 0.6 // dropped along a guide
		if r.Method != "drop" {
			r.Loose = 0.3
		}
		r.Width, r.Height = 3000, 2000
		if r.Travel == "down" || r.Travel == "up" {
			r.Width, r.Height = 2000, 3000
		}
	}
	return runs
}

func drops() []RunSpec {
	four := []float64{0.1, 0.2, 0.4, 0.7}
	three := []float64{0.12, 0.3, 0.6}
	runs := []RunSpec{
		{Name: "drop-white-down", Travel: "down", Drops: four, Shots: 4, Look: looks.WhitePlastic(),
			Backdrop: photo.Backdrop{Kind: photo.Cloth},
			Odd:      []string{"no-ruler", "dark"}, Ambient: 0.004},
		{Name: "drop-black-right", Travel: "right", Drops: four, Shots: 4, Look: looks.BlackPlastic(),
			Backdrop: photo.Backdrop{Kind: photo.Card},
			Tilt:     8 * deg, Odd: []string{"false-trip"}, K1: -0.03},
		{Name: "drop-steel-left", Travel: "left", Drops: three, Shots: 5, Look: looks.Steel(),
			Backdrop: photo.Backdrop{Kind: photo.Cloth},
			Trip:     "line", Tilt: -3 * deg, Odd: []string{"front-out"}, Falloff: 0.6},
		{Name: "drop-wood-up", Travel: "up", Drops: four, Shots: 4, Look: looks.TurnedRound(looks.WoodRule()),
			Backdrop:    photo.Backdrop{Kind: photo.Foliage},
			Orientation: 6, Tilt: 5 * deg, Odd: []string{"blurred"}},
		{Name: "drop-clear-right", Travel: "right", Drops: three, Shots: 4, Look: looks.ClearPlastic(),
			Backdrop: photo.Backdrop{Kind: photo.Plain, Colour: paint.RGB{R: 0.10, G: 0.22, B: 0.42}},
			Trip:     "line", Tilt: -2 * deg,
			Odd: []string{"few-marks"}},
		{Name: "drop-band-down", Travel: "down", Drops: three, Shots: 5, Look: looks.Banded(20 * mm),
			Backdrop: photo.Backdrop{Kind: photo.Soil},
			Decoy:    true, Tilt: 2 * deg, Odd: []string{"false-trip", "no-ruler"}},
	}
	for i := range runs {
		runs[i].Method = "drop"
		runs[i].UDrop, runs[i].UDropShot, runs[i].UDropCommon = 0.5*mm, 0.3*mm, 0.5*mm
	}
	return runs
}

func pushes() []RunSpec {
	sweep := []float64{0, 5e-3, 10e-3, 15e-3, 20e-3, 25e-3}
	nest := func(front bool) *photo.Block { return &photo.Block{Gap: 22 * mm, Bore: 8 * mm, Front: front} }
	return []RunSpec{
		{Name: "push-two-scales-right", Method: "push", Travel: "right", Speeds: []float64{0.8, 1.6, 2.6},
			Shots: 5, USpeed: 0.01,
			Look: looks.TwoScales(), Backdrop: photo.Backdrop{Kind: photo.Planks}, Trip: "line", Tilt: -5 * deg,
			Odd: []string{"dark"}},
		{Name: "push-paper-left", Method: "push", Travel: "left", Speeds: []float64{1, 2.2}, Shots: 7, USpeed: 0.015,
			Look: looks.PaperStrip(), Backdrop: photo.Backdrop{Kind: photo.Cloth}, Trip: "still", Tilt: -6 * deg,
			Odd: []string{"few-marks"}, Grip: "fingers"},
		{Name: "sweep-white-right", Method: "sweep", Travel: "right", Speeds: []float64{1.4}, Delays: sweep,
			Shots: 3, SpeedRepeat: 0.004,
			Look: looks.TurnedRound(looks.WhitePlastic()), Backdrop: photo.Backdrop{Kind: photo.Foliage},
			Block: nest(true), Trip: "line",
			Tilt: 1 * deg, Odd: []string{"no-ruler"}},
		{Name: "sweep-tape-down", Method: "sweep", Travel: "down", Speeds: []float64{1.1}, Delays: sweep,
			Shots: 3, SpeedRepeat: 0.004,
			Look:     looks.TurnedRound(looks.Tape()),
			Backdrop: photo.Backdrop{Kind: photo.Card, Colour: paint.Grey(0.1)}, Trip: "still",
			Tilt: 4 * deg, Odd: []string{"dark"}},
		{Name: "mixed-black-up", Method: "mixed", Travel: "up", Speeds: []float64{1, 1.7},
			Delays: []float64{0, 12e-3, 24e-3}, Shots: 3, USpeed: 0.01,
			SpeedRepeat: 0.003, Look: looks.BlackPlastic(),
			Backdrop: photo.Backdrop{Kind: photo.Plain, Colour: paint.RGB{R: 0.12, G: 0.25, B: 0.1}}, Trip: "line",
			Orientation: 8, Tilt: -4 * deg, Odd: []string{"false-trip"}, Block: nest(false)},
		{Name: "mixed-inch-left", Method: "mixed", Travel: "left", Speeds: []float64{1.2, 2},
			Delays: []float64{0, 10e-3, 20e-3}, Shots: 3, USpeed: 0.01,
			SpeedRepeat: 0.003, Look: looks.InchRule(16), Backdrop: photo.Backdrop{Kind: photo.Cloth},
			Trip: "line", Tilt: 7 * deg,
			Odd: []string{"blurred", "front-out"}},
	}
}
