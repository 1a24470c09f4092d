package style

import (
	"fmt"
	"regexp"
	"strings"
)

// colourRoots are the two blocks of the page's style sheet that hold the colours, light and dark.
var colourRoots = regexp.MustCompile(`(?s):root\{(.*?)\}`)

var colourPair = regexp.MustCompile(`--([a-z0-9-]+):#([0-9a-f]{6}|[0-9a-f]{3})\b`)

// Palette reads the colours of the page's style sheet, "#rrggbb" by their names, for light or for
// dark.
func Palette(dark bool) (map[string]string, error) {
	roots := colourRoots.FindAllStringSubmatch(string(page), 2)
	if len(roots) < 2 {
		return nil, fmt.Errorf("the style sheet has no light and dark colours")
	}
	root := roots[0][1]
	if dark {
		root = roots[1][1]
	}
	colours := map[string]string{}
	for _, m := range colourPair.FindAllStringSubmatch(root, -1) {
		hex := m[2]
		if len(hex) == 3 {
			hex = strings.Repeat(hex[:1], 2) + strings.Repeat(hex[1:2], 2) + strings.Repeat(hex[2:], 2)
		}
		colours[m[1]] = "#" + hex
	}
	return colours, nil
}
