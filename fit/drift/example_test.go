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
	fmt.Printf("%+.2f ms, 95 %% interval %+.2f to %+.2f ms\n", 1e3*d.Value, 1e3*d.Interval95.Low, 1e3*d.Interval95.High)
	// Output:
	// equivalent
	// +0.11 ms, 95 % interval -0.47 to +0.69 ms
}
