package vision

import "testing"

// The edge of something that hides a few graduations may be taken for one: it must not lead astray.
func TestOneOddTickIsLeftOut(t *testing.T) {
	var ticks []tick
	for _, i := range []int{6, 7, 8, 9, 10, 11, 12, 13, 18} {
		ticks = append(ticks, tick{index: i, t: 3.2 * float64(i)})
	}
	if got := withoutOdd(ticks); len(got) != len(ticks) {
		t.Errorf("%d of %d even ticks kept", len(got), len(ticks))
	}
	ticks[8].t -= 0.7
	got := withoutOdd(ticks)
	if len(got) != 8 || got[7].index != 13 {
		t.Errorf("kept %v; the last lies 0.7 px off", got)
	}
}
