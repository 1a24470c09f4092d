package design_test

import (
	"fmt"

	"leadmark/fit"
	"leadmark/fit/design"
)

// A first run planned from nothing but a goal: the lag to a quarter of a millisecond, drops of up
// to 800 mm.
func ExamplePlan() {
	plan, err := design.Plan(fit.Run{}, design.Goal{ULag: 0.25e-3, MaxDrop: 0.8})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, b := range plan.Stage {
		fmt.Printf("%d drops from %.0f mm\n", b.Shots, 1e3*b.Drop)
	}
	fmt.Printf("%d shots in all, if the spread is %.1f ms\n", plan.Shots, 1e3*plan.Spread)
	// Output:
	// 2 drops from 50 mm
	// 6 drops from 800 mm
	// 65 shots in all, if the spread is 1.0 ms
}
