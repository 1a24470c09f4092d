package edge

import (
	"math"
	"sync"
)

// normalTable has the standard normal density and distribution in steps of 1/normalSteps: an edge's
// fit asks for them for every pixel, and a place between two entries is right to 1e-5.
type normalTable [2*normalReach*normalSteps + 2][2]float64

const (
	normalReach = 6 // standard deviations
	normalSteps = 128
)

var normals = sync.OnceValue(func() *normalTable {
	var t normalTable
	for i := range t {
		z := float64(i)/normalSteps - normalReach
		t[i] = [2]float64{math.Exp(-z*z/2) / math.Sqrt(2*math.Pi), 0.5 * math.Erfc(-z/math.Sqrt2)}
	}
	return &t
})

// at returns density and distribution at z.
func (t *normalTable) at(z float64) (density, distribution float64) {
	x := (z + normalReach) * normalSteps
	if !(x > 0) {
		return 0, 0
	}
	if x >= 2*normalReach*normalSteps {
		return 0, 1
	}
	i := int(x)
	f := x - float64(i)
	a, b := &t[i], &t[i+1]
	return a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1])
}
