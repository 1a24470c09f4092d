package unit

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// JCGM 100:2008 (GUM), 7.2.2, second form: m_S = 100,021 47(35) g, u_c = 0,35 mg. H.3 (table and text): y1 = -0,1712 with
// u = 0,0029 and y2 = 0,002 18 with u = 0,000 67, from the unrounded values of the fit. 7.2.6, from memory: 10,057 62 ohm with u = 27 mohm
// is rounded to 10,058 ohm.
func TestGUMExamples(t *testing.T) {
	for _, c := range []struct {
		q              Quantity
		concise, value string
	}{
		{Quantity{100.02147, 0.00035, "g"}, "100.02147(35) g", "100.02147 g"},
		{Quantity{-0.1712037901, 0.0028775978, "°C"}, "-0.1712(29) °C", "-0.1712 °C"},
		{Quantity{0.002182697740, 0.000667938773, ""}, "0.00218(67)", "0.00218"},
		{Quantity{10.05762, 0.027, "Ω"}, "10.058(27) Ω", "10.058 Ω"},
	} {
		if got := c.q.Concise(); got != c.concise {
			t.Errorf("%+v: %q, want %q", c.q, got, c.concise)
		}
		if got := c.q.At(); got != c.value {
			t.Errorf("%+v: %q, want %q", c.q, got, c.value)
		}
	}
}

// NIST SP 811, 7.7: "63.2 m ± 0.1 m", not "63.2 ± 0.1 m"; SI Brochure 5.4.3: no space before the sign of degrees.
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
		{Quantity{math.Pi / 36, math.Pi / 1800, Degree}, "5.00° ± 0.10°"},
		{Quantity{0.16031, 0.00006, Millimetre}, "160.310 mm ± 0.060 mm"},
		{Quantity{0.0254, 0, Inch}, "1 in"},
		{Quantity{0.0523141, 0, Millisecond}, "52.31 ms"},
		{Quantity{0.0523141, math.NaN(), Millisecond}, "52.31 ms"},
		{Quantity{0.0523141, math.Inf(1), Millisecond}, "52.31 ms"},
		{Quantity{2980.23, 0.31, Pixel}, "2980.23 px ± 0.31 px"},
	} {
		if got := c.q.String(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.q, got, c.want)
		}
	}
	if got := (Quantity{12.34, 1.41, Metre}).Concise(); got != "12.3(1.4) m" {
		t.Errorf("%q: the point must stay inside the brackets", got)
	}
	if got := (Quantity{123456, 3400, Metre}).Concise(); got != "123500(3400) m" {
		t.Errorf("%q", got)
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

func TestRound(t *testing.T) {
	for _, c := range []struct{ v, u, want float64 }{
		{52.314159, 0.178234, 52.314}, {0.178234, 0.178234, 0.178}, {1234567, 45678, 1234600}, {52.314159, 0, 52.314159},
		{52.314159, math.NaN(), 52.314159}, {-0.00001, 0.1, 0}, {0.3, 0.1, 0.3},
	} {
		if got := Round(c.v, c.u); got != c.want || math.Signbit(got) && got == 0 {
			t.Errorf("Round(%v, %v) = %v, want %v", c.v, c.u, got, c.want)
		}
	}
	if !math.IsNaN(Round(math.NaN(), 1)) {
		t.Error("NaN became a number")
	}
}

// Rounding never moves a value by more than half of the last digit kept (two digits of u: at most 0.05/0.995 of it), and
// what is shown reads back as what was meant.
func TestRoundingMovesLittle(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 50_000 {
		v := (r.Float64() - 0.5) * math.Pow(10, float64(r.IntN(9)-4))
		u := math.Abs(v) * math.Pow(10, -4*r.Float64())
		if d := math.Abs(Round(v, u) - v); d > 0.00503*u {
			t.Fatalf("Round(%v, %v) moved by %v", v, u, d)
		}
		q := Quantity{v, u, Millimetre}
		back, err := ParseQuantity(q.String(), Length)
		if err != nil || math.Abs(back.Value-v) > 0.0503*u || math.Abs(back.U-u) > 0.0503*u || back.Unit != Millimetre {
			t.Fatalf("%v ± %v shown as %q reads back as %+v, %v", v, u, q.String(), back, err)
		}
		if back.String() != q.String() {
			t.Fatalf("%q read and shown again is %q", q.String(), back.String())
		}
	}
}

// The inch is 25.4 mm and the foot 304.8 mm exactly (NIST SP 811, B.8; international yard and pound agreement of 1959);
// 1/16 in = 1.5875 mm.
func TestParse(t *testing.T) {
	for _, c := range []struct {
		text string
		kind Kind
		want float64
	}{
		{"52.3 ms", Time, 0.0523}, {"1/200 s", Time, 0.005}, {"250us", Time, 250e-6}, {"250 \u03bcs", Time, 250e-6}, {"250 \u00b5s", Time, 250e-6},
		{"400mm", Length, 0.4}, {" 400 mm ", Length, 0.4}, {"1 in", Length, 0.0254}, {"1/16 in", Length, 0.0015875}, {"1 1/2 in", Length, 0.0381},
		{"-1 1/2 in", Length, -0.0381}, {`6"`, Length, 0.1524}, {"1 ft", Length, 0.3048}, {"-3.5 mm", Length, -0.0035}, {"+.5 m", Length, 0.5}, {"5. m", Length, 5},
		{"1e-3 m", Length, 0.001}, {"36 km/h", Speed, 10}, {"1.5m/s", Speed, 1.5}, {"180 deg", Angle, math.Pi}, {"90°", Angle, math.Pi / 2}, {"1 rad", Angle, 1},
	} {
		got, err := Parse(c.text, c.kind)
		if err != nil || math.Abs(got-c.want) > 1e-15*math.Abs(c.want) {
			t.Errorf("Parse(%q) = %v, %v; want %v", c.text, got, err, c.want)
		}
	}
}

func TestParseQuantity(t *testing.T) {
	want := Quantity{0.05231, 0.00018, Millisecond}
	for _, text := range []string{"52.31 ms ± 0.18 ms", "52.31 ± 0.18 ms", "52.31 +/- 0.18 ms", "52.31ms±180us"} {
		got, err := ParseQuantity(text, Time)
		if err != nil || math.Abs(got.Value-want.Value) > 1e-15 || math.Abs(got.U-want.U) > 1e-15 || got.Unit != want.Unit {
			t.Errorf("%q: %+v, %v", text, got, err)
		}
	}
}

func TestParseErrorsNameWhatIsWrong(t *testing.T) {
	for _, c := range []struct {
		text string
		kind Kind
		want string
	}{
		{"", Length, `does not begin with a number; write a length as "400 mm"`},
		{"mm", Length, "does not begin with a number"},
		{"NaN mm", Length, "does not begin with a number"},
		{"inf m", Length, "does not begin with a number"},
		{"400", Length, `"400" has no unit; write a length as "400 mm"`},
		{"52,3 ms", Time, "comma"},
		{"400 mn", Length, `ends in "mn", which is not a unit of length; use mm, cm, m, µm, in or ft`},
		{"400 MM", Length, `"MM", which is not a unit`},
		{"400 ms", Length, "is a time; a length is wanted, in mm"},
		{"5 mm", Angle, "is a length; an angle"},
		{"1/0 in", Length, "divides by"},
		{"1/-2 in", Length, "divides by"},
		{"1.5 1/2 in", Length, "two numbers"},
		{"3 4 mm", Length, "two numbers"},
		{"1e999 m", Length, "too large"},
		{"0x10 mm", Length, `ends in "x10 mm"`},
		{"1_000 mm", Length, `ends in "_000 mm"`},
		{"52 ± 1", Time, "has no unit"},
		{"52 ms ± -1 ms", Time, "below 0"},
		{"52 ms ± 1 mm", Time, "is a length; a time"},
	} {
		_, err := ParseQuantity(c.text, c.kind)
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), strings.Fields(c.text + " x")[0]) && c.text != "" {
			t.Errorf("%q: %v, want %q in it", c.text, err, c.want)
		}
	}
	if _, err := Parse("52 ± 1 ms", Time); err == nil || !strings.Contains(err.Error(), "states an uncertainty") {
		t.Errorf("%v", err)
	}
}

// There and back is exact for whole thousandths of a unit, so that a file written and read does not creep.
func TestThereAndBack(t *testing.T) {
	for _, u := range []Unit{Metre, Centimetre, Millimetre, Micrometre, Inch, Foot, Second, Millisecond, Microsecond, MetrePerSecond, KilometrePerHour, Degree, Radian} {
		for i := -2000; i <= 2000; i++ {
			v := float64(i) / 8
			if got := u.Of(u.SI(v)); math.Abs(got-v) > 4e-16*math.Abs(v) {
				t.Fatalf("%v %s came back as %v", v, u, got)
			}
		}
	}
	if Inch.SI(1) != 0.0254 || Millimetre.Of(Inch.SI(10)) != 254 {
		t.Errorf("an inch is %v m", Inch.SI(1))
	}
}

func FuzzParseQuantity(f *testing.F) {
	for _, s := range []string{"52.31 ms ± 0.18 ms", "1 1/2 in", "1e-3 m", "±", "-", "1/", "5 e", "400mm", "\u03bc"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, k := range []Kind{Length, Time, Speed, Angle} {
			q, err := ParseQuantity(text, k)
			if err == nil && (math.IsNaN(q.Value) || math.IsInf(q.Value, 0) || q.U < 0 || kindOf(q.Unit) != k) {
				t.Errorf("%q read as %+v", text, q)
			}
		}
	})
}
