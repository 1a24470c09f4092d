package plan_test

import (
	"fmt"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/calib/rig"
)

// Mason bees that leave a nest tube in a greenhouse, with a lag of 52 ms: how to frame and light them.
func ExampleMake() {
	bee, err := subject.LoadPreset("mason-bee", input.Overrides{})
	if err != nil {
		fmt.Println(err)
		return
	}
	greenhouse := rig.Profile{
		Name: "greenhouse",
		Camera: rig.Camera{
			Sensor: [2]float64{0.0235, 0.0156}, Pixels: [2]int{6000, 4000}, Sync: 0.005, ISO: 200,
		},
		Lens: rig.Lens{Focal: 0.1, Closest: 0.3, FNumber: [2]float64{2.8, 32}},
		Flash: []rig.Head{{
			Name: "key", Lights: rig.Subject, GuideNumber: 40, Distance: 0.3,
			Range: [2]float64{1, 1.0 / 128},
			T01: []rig.Duration{{Power: 1.0 / 64, Seconds: 45e-6},
				{Power: 1.0 / 128, Seconds: 30e-6}},
		}},
	}
	p, err := plan.Make(plan.Request{
		Rig: greenhouse, Subject: bee, Lag: predict.AssumedLag(0.052, 0.0008),
		Options: plan.DefaultOptions(),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	f, key := p.Framing, p.Light.Heads[0]
	fmt.Printf("a field of %.0f x %.0f mm, %s\n", 1e3*f.Field[0], 1e3*f.Field[1], f.Orientation())
	fmt.Printf("f/%g, the %s at %s\n", plan.MarkedFNumber(p.Focus.Optics.FNumber), key.Name,
		rig.PowerText(key.Power))
	fmt.Printf("a keeper in %.0f %% of trips\n", 100*p.Chance.Keeper.P)
	// Output:
	// a field of 79 x 53 mm, landscape
	// f/14, the key at 1/128
	// a keeper in 42 % of trips
}

// How many trips bring one keeper or more, where four in ten do.
func ExampleTripsFor() {
	for _, confidence := range []float64{0.5, 0.9, 0.95} {
		fmt.Printf("%d trips with %.0f %% confidence\n", plan.TripsFor(0.4, confidence),
			100*confidence)
	}
	// Output:
	// 2 trips with 50 % confidence
	// 5 trips with 90 % confidence
	// 6 trips with 95 % confidence
}
