package words

import (
	"fmt"
	"strings"

	"leadmark/fit/note"
)

// compared is what calibrations of a rig say when they are held against each other.
func compared() map[string]say {
	lags := func(text string) say {
		return as("the second lag is %+.2g ms from the first (95 %% interval %+.2g to %+.2g ms): "+
			text).in(milli, milli, milli, milli)
	}
	within := func(text string) say { return lags(text + " within the margin of %.2g ms") }
	spreads := func(text string) say {
		return as("the second spread is %.2g times the first (95 %% interval %.2g to %.2g): " + text)
	}
	return map[string]say{
		"lags/differ-by-little": within("they differ, but surely"),
		"lags/agree":            within("they agree"),
		"lags/differ": lags("they differ by more than chance explains; use the newer one, and look for what was " +
			"changed"),
		"lags/undecided": lags("no difference is proven"),
		"lags/undecided-within": lags("no difference is proven, nor that they agree within the margin of %.2g ms; " +
			"more shots would tell"),
		"spreads/undecided": spreads("no difference in spread is proven"),
		"spreads/more": spreads("the second rig scatters more than chance explains; look at battery, sync and how " +
			"the beam is broken"),
		"spreads/less": spreads("the second rig scatters less than chance explains"),

		"disagree/lag": as("the lag is %+.3g ms from calibration %d (95 %% interval %+.3g to %+.3g ms; such a "+
			"difference by chance: %s)").in(milli, asItIs, milli, milli).chance(4),
		"disagree/spread": as("the spread is %.2g times that of calibration %d (95 %% interval %.2g to %.2g; such " +
			"a ratio by chance: %s)").chance(4),
		"comparison/spread-hidden": as("a spread is hidden below the reading error in one of them, so the spreads " +
			"cannot be compared"),
		"comparison/no-setup": as("neither calibration says under which set-up it was made; they are taken as alike"),
		"comparison/other-setup": func(n note.Note) string {
			return "the set-ups are not known to be the same: " + strings.Join(n.List(0), "; ") +
				"; the difference may be theirs and not the rig's"
		},

		"chart/empty":   as("no calibration of this set-up told the lag"),
		"chart/too-few": as("too few calibrations for control limits: three of one set-up are needed"),
		"chart/sure":    charted,
		"chart/few": func(n note.Note) string {
			return charted(n) + "; the limits rest on few calibrations and will still move"
		},
		"chart-out/limits": as("beyond the limits"),
		"chart-out/jump":   as("a jump beyond the limit of the moving range"),
		"chart-out/side":   as("%d in a row on one side of the centre"),
	}
}

// charted counts the calibrations, and those that break a rule.
func charted(n note.Note) string {
	if n.Number(1) == 0 {
		return fmt.Sprintf("%.0f calibrations, all within the limits", n.Number(0))
	}
	return fmt.Sprintf("%.0f of %.0f calibrations break a rule of the chart: look for what was changed at that time "+
		"(battery, firmware, mode, lens)", n.Number(1), n.Number(0))
}
