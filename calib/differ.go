package calib

import (
	"fmt"
	"strings"

	"leadmark/vision/frame"
)

// FramesVary warns where the frames differ in exposure time, f-number, ISO, focal length, size or
// body: a lag belongs to one set-up. The frames named are those that differ from the most.
func FramesVary(frames []frame.Frame) []Warning {
	var all []Warning
	for _, d := range frame.Differences(frames) {
		w := Warning{Code: strings.ReplaceAll(strings.ToLower(d.Property), " ", "-") + "-varies"}
		var values []string
		for i, g := range d.Groups {
			values = append(values, fmt.Sprintf("%s (%d)", g.Value, len(g.Names)))
			if i > 0 {
				w.Frames = append(w.Frames, g.Names...)
			}
		}
		w.Text = fmt.Sprintf("frames vary in %s: %s; the lag belongs to one set-up, so calibrate each by itself", d.Property, strings.Join(values, ", "))
		all = append(all, w)
	}
	return all
}
