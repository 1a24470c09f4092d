package figure

import "html/template"

// Figure is the same drawing at three widths, of which style.Figures shows one.
type Figure struct {
	Title, Caption string
	SVG            []template.HTML
}
