package main

import (
	"fmt"
	"strings"

	"leadmark/calib/input"
	"leadmark/vision/ruler/coded"
	"leadmark/vision/ruler/printed"
)

// rulerOptions are the flags of ruler.
type rulerOptions struct {
	pdf, svg, slates, paper      string
	length                       int     // mm
	bar                          float64 // mm; 0: not measured
	drops, speeds, delays, group []string
}

func (o rulerOptions) validate() error {
	conditions := len(o.drops)+len(o.speeds)+len(o.delays)+len(o.group) > 0
	switch {
	case o.pdf == "" && o.svg == "" && o.slates == "":
		return &input.Error{What: "there is no file to write", Hint: "add --pdf FILE, --svg FILE or --slates FILE"}
	case o.slates != "" && !conditions:
		return &input.Error{File: "--slates", What: "needs the conditions to state",
			Hint: "add --drop-mm 100,200,400, --delay-ms 0,5, --speed-mps or --group"}
	case o.slates == "" && conditions:
		return &input.Error{File: "--drop-mm", What: "and the other conditions stand on slates",
			Hint: "add --slates FILE"}
	case o.length < 50 || o.length > coded.Cells || o.length%10 != 0:
		return &input.Error{File: "--length-mm", What: fmt.Sprintf("is %d; it is a whole ten from 50 to %d",
			o.length, coded.Cells)}
	case o.bar != 0 && !(o.bar >= 0.98*printed.BarMM && o.bar <= 1.02*printed.BarMM):
		return &input.Error{File: "--bar-mm", What: fmt.Sprintf("is %v; a printer's bar comes out between %v "+
			"and %v", o.bar, 0.98*printed.BarMM, 1.02*printed.BarMM),
			Hint: "print at 100 % (actual size), not fitted to the page, and measure the bar from end line to end line"}
	}
	return nil
}

func (o rulerOptions) sheet() (printed.Paper, error) {
	var names []string
	for _, p := range printed.Papers() {
		if p.Name == strings.ToLower(o.paper) {
			return p, nil
		}
		names = append(names, p.Name)
	}
	return printed.Paper{}, &input.Error{File: "--paper",
		What: fmt.Sprintf("is %q; it is %s", o.paper, strings.Join(names, " or "))}
}
