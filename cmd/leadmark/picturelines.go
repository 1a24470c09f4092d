package main

import (
	"fmt"
	"strconv"

	"github.com/jedib0t/go-pretty/v6/table"

	"leadmark/cmd/leadmark/terminal"
	"leadmark/vision/ruler"
)

// pictureLine is the JSON line of one picture, in the units of the contract.
type pictureLine struct {
	File         string           `json:"file"`
	Status       string           `json:"status"`
	Reason       string           `json:"reason"`
	Warnings     []string         `json:"warnings"`
	GraduationMM float64          `json:"graduation_mm,omitempty"`
	PxPerMM      float64          `json:"px_per_mm,omitempty"`
	FrontPX      *[2]float64      `json:"front_px"`
	Graduations  []graduationLine `json:"graduations"`
	Absolute     bool             `json:"absolute"`
	OutlinePX    [][2]float64     `json:"outline_px,omitempty"`
	UPX          float64          `json:"u_px,omitempty"`
}

type graduationLine struct {
	ReadingMM float64    `json:"reading_mm"`
	PX        [2]float64 `json:"px"`
}

func pictureEntry(path string, r ruler.Reading) pictureLine {
	l := pictureLine{File: path, Status: string(r.Status), Reason: r.Reason.String(), Warnings: []string{},
		Graduations: []graduationLine{}}
	for _, w := range r.Warnings {
		l.Warnings = append(l.Warnings, w.String())
	}
	if r.Status != ruler.StatusRead {
		return l
	}
	l.GraduationMM, l.Absolute = terminal.Rounded(r.Graduation*1e3, 4), r.Absolute
	l.PxPerMM, l.UPX = terminal.Rounded(r.PxPerM*1e-3, 4), terminal.Rounded(r.U, 3)
	if r.Front != nil {
		p := pixel(r.Front.At)
		l.FrontPX = &p
	}
	for g := range r.Graduations.All() {
		l.Graduations = append(l.Graduations, graduationLine{terminal.Rounded(g.Reading*1e3, 4), pixel(g.At)})
	}
	for _, p := range r.Outline {
		l.OutlinePX = append(l.OutlinePX, pixel(p))
	}
	return l
}

func pixel(p ruler.Point) [2]float64 {
	return [2]float64{terminal.Rounded(p.X, 2), terminal.Rounded(p.Y, 2)}
}

func pictureRow(path string, r ruler.Reading) table.Row {
	if r.Status != ruler.StatusRead {
		return table.Row{path, r.Status, "", "", "", r.Reason.String()}
	}
	front := "not in view"
	if r.Front != nil {
		front = fmt.Sprintf("%.1f, %.1f", r.Front.At.X, r.Front.At.Y)
	}
	note := fmt.Sprintf("%d graduations of %s mm", r.Graduations.Len(),
		strconv.FormatFloat(terminal.Rounded(r.Graduation*1e3, 4), 'f', -1, 64))
	if !r.Absolute {
		note += ", counted from the first one seen"
	}
	for _, w := range r.Warnings {
		note += "; " + w.String()
	}
	return table.Row{path, r.Status, fmt.Sprintf("%.3f", r.PxPerM*1e-3), front, fmt.Sprintf("%.2f", r.U), note}
}
