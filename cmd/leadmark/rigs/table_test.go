package rigs

import "testing"

func TestSupportedDigits(t *testing.T) {
	for _, c := range []struct {
		v, u float64
		want string
	}{{38.203, 0.598, "38.20"}, {38.203, 3.2, "38.2"}, {38.203, 41, "38"}, {38.203, 0, "38.203"}} {
		if got := supported(c.v, c.u); got != c.want {
			t.Errorf("%v with %v: %s, want %s", c.v, c.u, got, c.want)
		}
	}
}
