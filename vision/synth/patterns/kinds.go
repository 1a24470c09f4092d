package patterns

import (
	"sort"

	"leadmark/vision/synth/paint"
)

// Kinds lists them in order.
func Kinds() []string {
	var all []string
	for k := range patterns() {
		all = append(all, k)
	}
	sort.Strings(all)
	return all
}

func patterns() map[string]func(paint.Chance) pattern {
	return map[string]func(paint.Chance) pattern{
		"fence": fence, "keyboard": keyboard, "fabric": fabric, "barcode": barcode, "grass": grass, "bricks": bricks,
		"page of text": pageOfText, "zip": zip, "comb": comb, "radiator": radiator, "blinds": blinds,
		"piano keys": pianoKeys,
		"corduroy":   corduroy, "film": film, "LED strip": ledStrip, "screw thread": screwThread, "dentils": dentils,
		"ladder": ladder, "checks": checks, "chain link": chainLink, "spiral binding": spiralBinding,
		"stitches":  stitches,
		"saw blade": sawBlade, "rack": rack, "books": books, "grid": grid, "perforated sheet": perforated,
		"ruled paper": ruledPaper, "cooling fins": coolingFins, "sleepers": sleepers, "pin header": pinHeader,
		"picket posts": picketPosts, "rope": rope, "calendar": calendar, "grille": grille,
	}
}
