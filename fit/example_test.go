package fit_test

import (
	"fmt"

	"leadmark/fit"
)

// A ruler let fall three times from each of two heights through the beam of a bee-tube rig.
func ExampleLag() {
	run := fit.Run{Gravity: 9.80665}
	for _, s := range []struct{ drop, advance float64 }{
		{0.2, 0.1178}, {0.2, 0.1162}, {0.2, 0.1171}, {0.8, 0.2201}, {0.8, 0.2214}, {0.8, 0.2186},
	} {
		run.Shots = append(run.Shots, fit.Shot{Drop: s.drop, Advance: s.advance, AdvanceU: 1e-4})
	}
	res, err := fit.Lag(run)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("lag %.1f ms, standard uncertainty %.1f ms\n", 1e3*res.Lag.Value, 1e3*res.Lag.U)
	fmt.Printf("spread %.2f ms\n", 1e3*res.Spread.Value)
	next := res.Advice[0]
	fmt.Printf("next: %d drops from %.0f mm, for %.2f ms\n", next.Shots, 1e3*next.Drop, 1e3*next.ULagAfter)
	// Output:
	// lag 52.0 ms, standard uncertainty 0.5 ms
	// spread 0.32 ms
	// next: 6 drops from 50 mm, for 0.26 ms
}
