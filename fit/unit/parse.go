package unit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Parse reads a number with its unit, as "52.3 ms", "400mm", "1/16 in" or "1 1/2 in", and returns it in the SI base unit.
// The error names what is wrong and shows how to write it.
func Parse(text string, kind Kind) (float64, error) {
	q, err := ParseQuantity(text, kind)
	if err == nil && q.U != 0 {
		return 0, fmt.Errorf("%q states an uncertainty; %s alone is wanted here", text, article(kind))
	}
	return q.Value, err
}

// ParseQuantity reads what String shows, "52.31 ms ± 0.18 ms", and also "52.31 ± 0.18 ms", "52.31 +/- 0.18 ms" and what
// Parse reads. Value and U are in the SI base unit.
func ParseQuantity(text string, kind Kind) (Quantity, error) {
	first, second, split := strings.Cut(strings.ReplaceAll(text, "+/-", "±"), "±")
	v, in, err := parsePart(text, first, kind, split)
	if err != nil || !split {
		return Quantity{v, 0, in}, err
	}
	u, uIn, err := parsePart(text, second, kind, false)
	if err != nil {
		return Quantity{}, err
	}
	if u < 0 {
		return Quantity{}, fmt.Errorf("%q states an uncertainty below 0", text)
	}
	if in == "" { // one unit for both
		in, v = uIn, uIn.SI(v)
	}
	return Quantity{v, u, in}, nil
}

// parsePart reads one number and its unit; without a unit, which may be allowed, the number is returned as it is.
func parsePart(text, part string, kind Kind, bare bool) (float64, Unit, error) {
	v, rest, err := number(strings.TrimSpace(part))
	if err != nil {
		return 0, "", fmt.Errorf("%q %w; write %s as %q", text, err, article(kind), example(kind))
	}
	if rest == "" && bare {
		return v, "", nil
	}
	u, err := wanted(rest, kind)
	if err != nil {
		return 0, "", fmt.Errorf("%q %w", text, err)
	}
	si := u.SI(v)
	if math.IsInf(si, 0) {
		return 0, "", fmt.Errorf("%q is too large", text)
	}
	return si, u, nil
}

// number reads a decimal number, a fraction or a whole number with a fraction, and returns the text behind it.
func number(s string) (float64, string, error) {
	v, rest, err := decimal(s)
	if err != nil {
		return 0, "", err
	}
	switch {
	case strings.HasPrefix(rest, ","):
		return 0, "", fmt.Errorf("has a comma in its number, where a decimal point belongs")
	case strings.HasPrefix(rest, "/"):
		return divide(v, rest[1:])
	}
	rest = strings.TrimSpace(rest)
	if rest == "" || rest[0] < '0' || rest[0] > '9' {
		return v, rest, nil
	}
	num, rest, err := decimal(rest) // 1 1/16
	if err != nil || !strings.HasPrefix(rest, "/") || v != math.Trunc(v) {
		return 0, "", fmt.Errorf("has two numbers where one belongs")
	}
	part, rest, err := divide(num, rest[1:])
	return v + math.Copysign(part, v), rest, err
}

func divide(v float64, s string) (float64, string, error) {
	d, rest, err := decimal(s)
	if err != nil || d <= 0 {
		return 0, "", fmt.Errorf("divides by something that is not a number above 0")
	}
	return v / d, strings.TrimSpace(rest), nil
}

// decimal reads the longest decimal number that s begins with: sign, digits, point, exponent.
func decimal(s string) (float64, string, error) {
	end := 0
	digits := func() (any bool) {
		for end < len(s) && '0' <= s[end] && s[end] <= '9' {
			end, any = end+1, true
		}
		return any
	}
	sign := func() {
		if end < len(s) && (s[end] == '+' || s[end] == '-') {
			end++
		}
	}
	sign()
	any := digits()
	if end < len(s) && s[end] == '.' {
		end++
		any = digits() || any
	}
	if !any {
		return 0, s, fmt.Errorf("does not begin with a number")
	}
	if mantissa := end; end < len(s) && (s[end] == 'e' || s[end] == 'E') {
		end++
		sign()
		if !digits() {
			end = mantissa // the e belongs to what follows
		}
	}
	v, err := strconv.ParseFloat(s[:end], 64)
	if err != nil {
		return 0, s, fmt.Errorf("has a number that is too large")
	}
	return v, s[end:], nil
}

// wanted reads a unit of the wanted kind.
func wanted(text string, kind Kind) (Unit, error) {
	if text == "" {
		return "", fmt.Errorf("has no unit; write %s as %q", article(kind), example(kind))
	}
	u, ok := unitOf(text)
	switch {
	case ok && slices.Contains(of(kind), u):
		return u, nil
	case ok:
		return "", fmt.Errorf("is %s; %s is wanted, in %s", article(kindOf(u)), article(kind), list(of(kind)))
	}
	return "", fmt.Errorf("ends in %q, which is not a unit of %s; use %s", text, kind, list(of(kind)))
}

func example(k Kind) string {
	switch k {
	case Time:
		return "52.3 ms"
	case Speed:
		return "1.5 m/s"
	case Angle:
		return "5 deg"
	}
	return "400 mm"
}

// list joins units as "a, b or c".
func list(units []Unit) string {
	var b strings.Builder
	for i, u := range units {
		switch {
		case i > 0 && i == len(units)-1:
			b.WriteString(" or ")
		case i > 0:
			b.WriteString(", ")
		}
		b.WriteString(string(u))
	}
	return b.String()
}

func article(k Kind) string {
	if k == Angle {
		return "an " + string(k)
	}
	return "a " + string(k)
}
