package drift_test

import (
	"fmt"

	"leadmark/fit"
	"leadmark/fit/drift"
)

// Two calibrations of one rig, a season apart.
func ExampleCompare() {
	spring := fit.Estimate{Value: 52.31e-3, U: 0.18e-3, DF: 21}
	autumn := fit.Estimate{Value: 52.42e-3, U: 0.22e-3, DF: 14}
	d := drift.Compare(spring, autumn, drift.CompareOptions{Margin: 1e-3})
	fmt.Println(d.Verdict)
	fmt.Println(d.Text)
	// Output:
	// equivalent
	// the second lag is +0.11 ms from the first (95 % interval -0.47 to +0.69 ms): they agree within the margin of 1 ms
}
