package shoot

import "fmt"

// PercentText is a chance in per cent for people to read, without an exponent: nobody acts on less
// than one in a thousand.
func PercentText(p float64) string {
	switch percent := 100 * p; {
	case percent < 0.1:
		return "less than 0.1 %"
	case percent < 10:
		return fmt.Sprintf("%.1f %%", percent)
	default:
		return fmt.Sprintf("%.0f %%", percent)
	}
}
