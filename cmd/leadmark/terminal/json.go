package terminal

import (
	"encoding/json"
	"io"
	"math"
)

// JSON prints a document.
func JSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// Rounded is a number of a document, rounded to n places after the point.
func Rounded(x float64, n int) float64 {
	k := math.Pow10(n)
	if y := math.Round(x*k) / k; y != 0 {
		return y
	}
	return 0
}
