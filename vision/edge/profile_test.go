package edge

import (
	"math"
	"testing"
)

// Every distance inside the half width has a bin, also the one next to its end, whose quotient
// rounds to 1 for most half widths.
func TestEveryDistanceHasABin(t *testing.T) {
	rounded := 0
	for half := 3.0; half < 40; half += 0.0137 {
		s := math.Nextafter(half, 0)
		if int((s+half)/(2*half)*edgeBins) == edgeBins {
			rounded++
		}
		if k := binAt(s, half); k != edgeBins-1 {
			t.Errorf("%v of %v: bin %d", s, half, k)
		}
		if k := binAt(-s, half); k != 0 {
			t.Errorf("%v of %v: bin %d", -s, half, k)
		}
	}
	if rounded == 0 {
		t.Error("none of the distances rounds up: nothing was tested")
	}
}
