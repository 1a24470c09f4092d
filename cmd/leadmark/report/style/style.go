// Package style is the look of what the report makes: the style sheets of its pages and figures,
// and the colours they name. Pictures that know no style sheet take their colours from here.
package style

import (
	"bytes"
	_ "embed" // the style sheets
	"html/template"
)

//go:embed page.css
var page []byte

//go:embed figures.css
var figures []byte

// Series is how many series colours the style sheet has; with seven shapes 42 series differ.
const Series = 6

// Page is the style sheet of the report's pages, the figures' own rules in their place.
func Page() template.CSS {
	return template.CSS(bytes.Replace(page, []byte("/*figures*/\n"), figures, 1))
}

// Figures is the style sheet of figures on a page of one's own. It needs the colours of the page as
// custom properties: paper, ink, soft, rule, faint, accent, next, sure, bad, and s0 to s5.
func Figures() []byte { return bytes.Clone(figures) }
