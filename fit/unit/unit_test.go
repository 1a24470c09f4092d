package unit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// JCGM 100:2008 (GUM), 7.2.2: m_S = 100,021 47 g with u_c = 0,35 mg. H.3 (table and text): y1 =
// -0,1712 with u = 0,0029 and y2 = 0,002 18 with u = 0,000 67, from the unrounded values of the
// fit. 7.2.6, from memory: 10,057 62 ohm with u = 27 mohm is rounded to 10,058 ohm.
func TestGUMExamples(t *testing.T) {
	for _, c := range []struct {
		q            Quantity
		whole, value string
	}{
		{Quantity{100.02147, 0.00035, "g"}, "100.02147 g ± 0.00035 g", "100.02147 g"},
		{Quantity{-0.1712037901, 0.0028775978, "°C"}, "-0.1712 °C ± 0.0029 °C", "-0.1712 °C"},
		{Quantity{0.002182697740, 0.000667938773, ""}, "0.00218 ± 0.00067", "0.00218"},
		{Quantity{10.05762, 0.027, "Ω"}, "10.058 Ω ± 0.027 Ω", "10.058 Ω"},
	} {
		if got := c.q.String(); got != c.whole {
			t.Errorf("%+v: %q, want %q", c.q, got, c.whole)
		}
		if got := c.q.At(); got != c.value {
			t.Errorf("%+v: %q, want %q", c.q, got, c.value)
		}
	}
}

// NIST SP 811, 7.7: "63.2 m ± 0.1 m", not "63.2 ± 0.1 m".
func TestString(t *testing.T) {
	for _, c := range []struct {
		q    Quantity
		want string
	}{
		{Quantity{0.0523141, 0.000178, Millisecond}, "52.31 ms ± 0.18 ms"},
		{Quantity{0.0523141, 0.000996, Millisecond}, "52.3 ms ± 1.0 ms"}, // rounding carries into the next digit
		{Quantity{0.0523141, 0.00994, Millisecond}, "52.3 ms ± 9.9 ms"},
		{Quantity{0.0523141, 0.0123, Millisecond}, "52 ms ± 12 ms"},
		{Quantity{123456, 3400, Metre}, "123500 m ± 3400 m"},
		{Quantity{-0.00001, 0.01, Metre}, "0.000 m ± 0.010 m"}, // no -0
		{Quantity{3, 3400, Metre}, "0 m ± 3400 m"},
		{Quantity{0.16031, 0.00006, Millimetre}, "160.310 mm ± 0.060 mm"},
		{Quantity{0.0254, 0, Millimetre}, "25.4 mm"},
		{Quantity{0.0523141, 0, Millisecond}, "52.31 ms"},
		{Quantity{0.0523141, math.NaN(), Millisecond}, "52.31 ms"},
		{Quantity{0.0523141, math.Inf(1), Millisecond}, "52.31 ms"},
		{Quantity{2980.23, 0.31, "px"}, "2980.23 px ± 0.31 px"},
	} {
		if got := c.q.String(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.q, got, c.want)
		}
	}
}

func TestSpanAndPlain(t *testing.T) {
	for got, want := range map[string]string{
		Span(0.05194, 0.05268, Millisecond): "51.94 ms to 52.68 ms",
		Span(0.05, 0.05, Millisecond):       "50 ms to 50 ms",
		Span(-0.0006, 0.0123, Metre):        "-0.0006 m to 0.0123 m",
		Plain(0.4, Millimetre):              "400 mm",
		Plain(9.80665, Metre):               "9.807 m",
		Plain(1234567, Metre):               "1235000 m",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Rounding never moves a value by more than half of the last digit kept (two digits of u: at most
// 0.05/0.995 of it), and what is shown reads back as what was meant.
func TestRoundingMovesLittle(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 50_000 {
		v := (r.Float64() - 0.5) * math.Pow(10, float64(r.IntN(9)-4))
		u := math.Abs(v) * math.Pow(10, -4*r.Float64())
		shown := Quantity{v, u, Millimetre}.String()
		var backV, backU float64
		if _, err := fmt.Sscanf(shown, "%f mm ± %f mm", &backV, &backU); err != nil {
			t.Fatalf("%v ± %v shown as %q: %v", v, u, shown, err)
		}
		if !(math.Abs(backV/1000-v) <= 0.0503*u && math.Abs(backU/1000-u) <= 0.0503*u) {
			t.Fatalf("%v ± %v shown as %q reads back as %v ± %v", v, u, shown, backV, backU)
		}
		if again := (Quantity{backV / 1000, backU / 1000, Millimetre}).String(); again != shown {
			t.Fatalf("%q read and shown again is %q", shown, again)
		}
	}
}
