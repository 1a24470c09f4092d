package calib

import (
	"fmt"
	"math"
	"strconv"

	"leadmark/frame"
)

// FramesVary warns where the frames differ in exposure time, f-number, ISO, focal length,
// size or body: a lag belongs to one set-up. The frames named are those that differ from the
// most common value; a file that does not state a value is not counted.
func FramesVary(frames []frame.Frame) []Warning {
	properties := []struct {
		code, name string
		of         func(frame.Frame) string
	}{
		{"exposure-varies", "exposure time", func(f frame.Frame) string { return exposureText(f.Exposure) }},
		{"f-number-varies", "f-number", func(f frame.Frame) string { return numberText("f/", f.FNumber, "") }},
		{"iso-varies", "ISO", func(f frame.Frame) string { return numberText("ISO ", float64(f.ISO), "") }},
		{"focal-length-varies", "focal length", func(f frame.Frame) string { return numberText("", f.Focal*1e3, " mm") }},
		{"size-varies", "size", sizeText},
		{"body-varies", "camera body", func(f frame.Frame) string { return f.Model }},
	}
	var all []Warning
	for _, p := range properties {
		if odd, text := differing(frames, p.of); len(odd) > 0 {
			all = append(all, Warning{p.code, fmt.Sprintf("frames vary in %s: %s; the lag belongs to one set-up, so calibrate each by itself", p.name, text), odd})
		}
	}
	return all
}

// differing returns the frames that do not have the most common value, and the values in words.
func differing(frames []frame.Frame, of func(frame.Frame) string) (odd []string, text string) {
	count := map[string]int{}
	var values []string
	for _, f := range frames {
		v := of(f)
		if v != "" && count[v] == 0 {
			values = append(values, v)
		}
		count[v]++
	}
	if len(values) < 2 {
		return nil, ""
	}
	common := values[0]
	for i, v := range values {
		if count[v] > count[common] {
			common = v
		}
		if i > 0 {
			text += ", "
		}
		text += fmt.Sprintf("%s (%d)", v, count[v])
	}
	for _, f := range frames {
		if v := of(f); v != "" && v != common {
			odd = append(odd, f.Name)
		}
	}
	return odd, text
}

func sizeText(f frame.Frame) string {
	if f.StoredWidth == 0 && f.Width == 0 {
		return ""
	}
	return fmt.Sprintf("%d x %d px", f.Width, f.Height)
}

func exposureText(s float64) string {
	switch {
	case s <= 0:
		return ""
	case s < 0.4:
		return fmt.Sprintf("1/%.4g s", math.Round(10/s)/10)
	}
	return numberText("", s, " s")
}

func numberText(before string, x float64, after string) string {
	if x <= 0 {
		return ""
	}
	return before + strconv.FormatFloat(x, 'g', 4, 64) + after
}
