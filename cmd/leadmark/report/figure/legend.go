package figure

import (
	"fmt"
	"html/template"

	"leadmark/cmd/leadmark/report/figure/svg"
)

// Key is a mark with what it stands for.
type Key struct {
	Mark template.HTML
	Name string
}

// Legend explains the marks, where there is more than one, and the sign of an odd shot.
func Legend(s Shots) []Key {
	var out []Key
	add := func(name string, draw func(c *svg.Canvas)) {
		c := &svg.Canvas{W: 18, H: 18}
		draw(c)
		out = append(out, Key{template.HTML(`<svg class="key" viewBox="0 0 18 18" aria-hidden="true">` +
			c.Body() + `</svg>`), name})
	}
	if len(s.marks) > 1 {
		for i, n := range s.marks {
			if s.crowded() && i == mostConditions {
				add(fmt.Sprintf("and so on, %d more", len(s.marks)-i), func(*svg.Canvas) {})
				break
			}
			add(n, func(c *svg.Canvas) { c.Mark(i, 9, 9, 6) })
		}
	}
	for _, x := range s.shots {
		if x.Fit.Outlier {
			add("odd shot", func(c *svg.Canvas) { c.OutlierMark(9, 9, 6) })
			break
		}
	}
	return out
}
