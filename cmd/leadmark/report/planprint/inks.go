package planprint

import "leadmark/cmd/leadmark/report/figure/drawing"

// inks are the classes of the drawn set. What is told apart differs in more than colour: by fill,
// by width, by dashes.
func inks() map[string]drawing.Ink {
	return map[string]drawing.Ink{
		"paper":   {Fill: "paper", Opacity: 1},
		"panel":   {Fill: "sheet", Stroke: "rule", Opacity: 1, Width: 1},
		"grid":    {Stroke: "rule", Width: 1},
		"exit":    {Stroke: "ink", Width: 6},
		"beam":    {Stroke: "bad", Width: 3, Dash: true},
		"path":    {Stroke: "soft", Width: 1.2},
		"body":    {Fill: "s5", Stroke: "s5", Opacity: 0.16, Width: 1.2},
		"outline": {Fill: "accent", Stroke: "accent", Opacity: 0.16, Width: 1.4},
		"reach":   {Stroke: "accent", Width: 3},
		"field":   {Stroke: "ink", Width: 2, Dash: true},
		"zone":    {Fill: "s0", Stroke: "s0", Opacity: 0.14, Width: 1},
		"plane":   {Stroke: "s0", Width: 2},
		"ray":     {Stroke: "s1", Width: 1.6},
		"sight":   {Stroke: "soft", Width: 1, Dash: true},
		"head":    {Fill: "s1", Opacity: 1},
		"camera":  {Fill: "ink", Opacity: 1},
		"lens":    {Fill: "soft", Opacity: 0.5},
		"axis":    {Stroke: "soft", Width: 1.2},
		"title":   {Fill: "ink", Opacity: 1, Size: 21},
		"label":   {Fill: "ink", Opacity: 1, Size: 17},
		"tick":    {Fill: "soft", Opacity: 1, Size: 15},
		"mark":    {Fill: "sheet", Opacity: 1, Size: 15},
	}
}
