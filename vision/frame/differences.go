package frame

import (
	"leadmark/fit/unit"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Difference is a setting that is not the same in all frames.
type Difference struct {
	Property string // "exposure time", "f-number", "ISO", "focal length", "size" or "body"
	Groups   []Group
}

// Group is the frames that share one value of a setting.
type Group struct {
	Value string   // for a person, as "1/200 s"; "not stated" where the files do not say
	Names []string // in the order of the frames given
}

// notStated is the value of frames whose file does not say.
const notStated = "not stated"

// Differences names the settings that differ between frames, with the frames of each value: the
// largest group first, equal ones in the order of the frames. Frames that do not state a setting
// make a group of their own beside frames that do. It returns nil where all agree. A lag belongs to
// one set-up: what is returned here is to be warned of.
func Differences(frames []Frame) []Difference {
	settings := []struct {
		name  string
		value func(Frame) string
	}{
		{"exposure time", func(f Frame) string { return exposureText(f.Exposure) }},
		{"f-number", func(f Frame) string { return numberText("f/", f.FNumber, "") }},
		{"ISO", func(f Frame) string { return numberText("ISO ", float64(f.ISO), "") }},
		{"focal length", func(f Frame) string { return numberText("", f.Focal*1000, " mm") }},
		{"size", func(f Frame) string {
			return strconv.Itoa(f.Width) + " x " +
				strconv.Itoa(f.Height) + " px"
		}},
		{"body", bodyText},
	}
	var found []Difference
	for _, s := range settings {
		if groups := groupBy(frames, s.value); len(groups) > 1 {
			found = append(found, Difference{s.name, groups})
		}
	}
	return found
}

func groupBy(frames []Frame, value func(Frame) string) []Group {
	var groups []Group
	at := map[string]int{}
	for _, f := range frames {
		v := value(f)
		i, ok := at[v]
		if !ok {
			i = len(groups)
			at[v] = i
			groups = append(groups, Group{Value: v})
		}
		groups[i].Names = append(groups[i].Names, f.Name)
	}
	slices.SortStableFunc(groups, func(a, b Group) int { return len(b.Names) - len(a.Names) })
	return groups
}

// exposureText writes an exposure time as cameras do, 1/200 s, where it is near enough to such a
// fraction.
func exposureText(s float64) string {
	if s > 0 && s <= longestFraction {
		if n := math.Round(1 / s); math.Abs(n*s-1) < nearFraction {
			return "1/" + strconv.FormatFloat(n, 'f', 0, 64) + " s"
		}
	}
	return numberText("", s, " s")
}

// numberText writes v with four significant digits, finer than any of these settings is set.
func numberText(before string, v float64, after string) string {
	if v <= 0 {
		return notStated
	}
	return before + unit.Decimal(unit.Significant(v, 4)) + after
}

// bodyText joins make and model; many makers put their name into both.
func bodyText(f Frame) string {
	if f.Make == "" && f.Model == "" {
		return notStated
	}
	if strings.HasPrefix(strings.ToLower(f.Model), strings.ToLower(f.Make)) {
		return f.Model
	}
	return strings.TrimSpace(f.Make + " " + f.Model)
}
