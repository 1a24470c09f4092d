package words

import "testing"

func TestPercent(t *testing.T) {
	for p, want := range map[float64]string{0: "less than 0.1 %", 9.8e-9: "less than 0.1 %",
		0.004: "0.4 %", 0.31: "31 %", 1: "100 %"} {
		if got := Percent(p); got != want {
			t.Errorf("%v: %s, not %s", p, got, want)
		}
	}
}
