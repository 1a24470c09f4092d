package marks

import "testing"

// The edge of something that hides a few graduations may be taken for one: it must not lead astray.
func TestOneOutlierIsLeftOut(t *testing.T) {
	var graduations []graduation
	for _, i := range []int{6, 7, 8, 9, 10, 11, 12, 13, 18} {
		graduations = append(graduations, graduation{index: i, t: 3.2 * float64(i)})
	}
	if got := withoutOdd(graduations); len(got) != len(graduations) {
		t.Errorf("%d of %d even graduations kept", len(got), len(graduations))
	}
	graduations[8].t -= 0.7
	got := withoutOdd(graduations)
	if len(got) != 8 || got[7].index != 13 {
		t.Errorf("kept %v; the last lies 0.7 px off", got)
	}
}
