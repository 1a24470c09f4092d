package stat

import (
	"testing"

	"leadmark/testdata"
)

// Student's quantile of Norris's 34 degrees of freedom (R: qt(.975, 34)); Handbook 91's 14 are
// among its results.
func TestStudentsQuantile(t *testing.T) {
	testdata.Near(t, "34", T95(34), 2.03224451, 1e-8)
}
