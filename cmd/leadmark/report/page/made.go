package page

import (
	"maps"
	"slices"
	"strings"

	"leadmark/calib/provenance"
)

// madeBy says in a line what a page was made by and from.
func madeBy(m provenance.Made) string {
	text := "Made by " + m.Generator.Program + " " + m.Generator.String() + " from inputs whose SHA-256 is " +
		m.InputsSHA256
	if s := given(m.Settings); s != "" {
		text += ", with " + s
	}
	return text + "."
}

// given lists what the command line said, by key.
func given(settings map[string]string) string {
	var all []string
	for _, key := range slices.Sorted(maps.Keys(settings)) {
		all = append(all, key+" = "+settings[key])
	}
	return strings.Join(all, ", ")
}
