package page

import (
	"html/template"

	"leadmark/cmd/leadmark/report/figure"
)

// figureView is a figure with its place on a page.
type figureView struct {
	ID, Title, Caption string
	SVG                []template.HTML
}

func viewFigure(id string, f figure.Figure) *figureView {
	return &figureView{ID: id, Title: f.Title, Caption: f.Caption, SVG: f.SVG}
}
