package fit

import (
	"slices"
	"testing"
)

// Settings are listed by drop, then by speed, by group and by delay.
func TestSettingsHaveOneOrder(t *testing.T) {
	want := []Setting{{Group: "a", Delay: 0.02}, {Group: "b"}, {Group: "b", Delay: 0.01}, {Speed: 1, Delay: 0.01},
		{Speed: 2}, {Drop: 0.2, Delay: 0.02}, {Drop: 0.4}, {Drop: 0.4, Delay: 0.01}}
	got := slices.Clone(want)
	slices.Reverse(got)
	slices.SortStableFunc(got, Setting.Compare)
	if !slices.Equal(got, want) {
		t.Errorf("%+v, not %+v", got, want)
	}
}
