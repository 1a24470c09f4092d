package shoot_test

import (
	"fmt"

	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/calib/shoot"
)

// Ten bees flew out of the nest tube; the flash found eight in the picture and two beyond its edge.
// What that teaches of their speed, with a lag of 52 ms.
func ExampleLearn() {
	leads := shoot.Leads{
		// m past the trip point
		Seen:   []float64{0.052, 0.064, 0.071, 0.058, 0.066, 0.049, 0.075, 0.061},
		Beyond: []float64{0.080, 0.080},
	}
	bee := subject.Subject{Motion: subject.Straight}
	learned, err := shoot.Learn(leads, bee, predict.AssumedLag(0.052, 0.0008), 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d bees, %d of them beyond the picture\n", learned.N, learned.Censored)
	fmt.Printf("speed %.2f m/s, 95 %% interval %.2f to %.2f m/s\n", learned.Speed,
		learned.Speed95[0], learned.Speed95[1])
	fmt.Printf("standard deviation %.2f m/s\n", learned.SpeedSD)
	// Output:
	// 10 bees, 2 of them beyond the picture
	// speed 1.29 m/s, 95 % interval 1.10 to 1.50 m/s
	// standard deviation 0.26 m/s
}

// Of 31 animals 27 were inside a reach that was to hold 95 % of them.
func ExampleBinomialP() {
	inside := shoot.BinomialInterval(27, 31)
	fmt.Printf("inside: %.0f %%, 95 %% interval %.0f to %.0f %%\n", 100*27.0/31, 100*inside[0],
		100*inside[1])
	fmt.Printf("chance of that many outside, if the plan holds: %.2f\n",
		shoot.BinomialP(27, 31, 0.95))
	// Output:
	// inside: 87 %, 95 % interval 70 to 96 %
	// chance of that many outside, if the plan holds: 0.07
}
