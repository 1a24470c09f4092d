package main

import (
	"fmt"

	"github.com/jedib0t/go-pretty/v6/table"

	"leadmark/calib/words"
	"leadmark/fit/unit"
	"leadmark/vision/ruler"
)

func pictureRow(path string, r ruler.Reading) table.Row {
	if r.Status != ruler.StatusRead {
		return table.Row{path, r.Status, "", "", "", words.Reason(r.Reason)}
	}
	front := "not in view"
	if r.Front != nil {
		front = fmt.Sprintf("%.1f, %.1f", r.Front.At.X, r.Front.At.Y)
	}
	note := fmt.Sprintf("%d graduations of %s mm", r.Graduations.Len(),
		unit.Decimal(unit.Fixed(r.Graduation*1e3, 4)))
	if !r.Absolute {
		note += ", counted from the first one seen"
	}
	for _, w := range r.Warnings {
		note += "; " + words.Reason(w)
	}
	return table.Row{path, r.Status, fmt.Sprintf("%.3f", r.PxPerM*1e-3), front, fmt.Sprintf("%.2f", r.U), note}
}
