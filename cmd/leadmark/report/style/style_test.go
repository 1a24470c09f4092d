package style

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// looks reads the colours of the light and the dark look from the style sheet.
func looks(t *testing.T) map[string]map[string]string {
	t.Helper()
	roots := regexp.MustCompile(`(?s):root\{(.*?)\}`).FindAllStringSubmatch(string(page), 2)
	if len(roots) < 2 {
		t.Fatal("the style sheet has no two looks")
	}
	out := map[string]map[string]string{}
	for i, name := range []string{"light", "dark"} {
		out[name] = map[string]string{}
		for _, m := range regexp.MustCompile(`--([a-z0-9-]+):#([0-9a-f]{3,6})`).FindAllStringSubmatch(roots[i][1], -1) {
			hex := m[2]
			if len(hex) == 3 {
				hex = strings.Repeat(hex[:1], 2) + strings.Repeat(hex[1:2], 2) + strings.Repeat(hex[2:], 2)
			}
			out[name][m[1]] = hex
		}
	}
	return out
}

// luminance and contrast are as WCAG 2.2 defines relative luminance and contrast ratio.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	var l float64
	for i, w := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		l += w * c
	}
	return l
}

func contrast(t *testing.T, a, b string) float64 {
	la, lb := luminance(t, a), luminance(t, b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// TestContrastOfBothLooks holds text to 4.5 to 1 and what figures are drawn with to 3 to 1
// (WCAG 2.2, 1.4.3 and 1.4.11, level AA).
func TestContrastOfBothLooks(t *testing.T) {
	for look, c := range looks(t) {
		check := func(fore, back string, least float64) {
			if c[fore] == "" || c[back] == "" {
				t.Fatalf("%s: no colour %s or %s", look, fore, back)
			}
			if r := contrast(t, c[fore], c[back]); r < least {
				t.Errorf("%s: %s on %s is %.2f to 1, want %.1f", look, fore, back, r, least)
			}
		}
		for _, text := range []string{"ink", "soft", "accent", "bad"} {
			check(text, "paper", 4.5)
			check(text, "sheet", 4.5)
		}
		for _, text := range []string{"ink", "warn", "accent"} {
			check(text, "warn-soft", 4.5)
		}
		check("soft", "faint", 4.5)
		for _, drawn := range []string{"s0", "s1", "s2", "s3", "s4", "s5", "bad", "ink"} {
			check(drawn, "paper", 3)
			check(drawn, "next", 3)
		}
	}
	if got := contrast(t, "ffffff", "000000"); math.Abs(got-21) > 1e-9 { // WCAG: 21 to 1 at most
		t.Errorf("white on black is %v to 1, want 21", got)
	}
}

// TestNoSmallText holds every size of the style sheet to 14 px or more; 1 rem is 17 px, 1 pt 4/3
// px.
func TestNoSmallText(t *testing.T) {
	found := regexp.MustCompile(`font(?:-size)?:[^;}]*?(\d*\.?\d+)(rem|px|pt|em)`).
		FindAllStringSubmatch(string(page), -1)
	if len(found) < 10 {
		t.Fatalf("only %d sizes found", len(found))
	}
	for _, m := range found {
		v, _ := strconv.ParseFloat(m[1], 64)
		if px := v * map[string]float64{"rem": 17, "px": 1, "pt": 4.0 / 3, "em": 18}[m[2]]; px < 14 {
			t.Errorf("%s is %.1f px", m[0], px)
		}
	}
}
