package runfile

import (
	"fmt"
	"strconv"
	"strings"

	"leadmark/vision/frame"
)

// SlateSeen is the text of the symbol that a frame shows, and whether the ruler is in it too.
type SlateSeen struct {
	Text      string
	WithRuler bool
}

// startCells are the cells of shots.csv that slates fill, by frame and column, and a remark for
// each frame that is a slate and no shot.
type startCells struct {
	cells   map[string]map[string]string
	remarks map[string]string
	method  Method   // what the slates speak of; "" where there are none, or they differ
	all     bool     // every shot has its drop, speed or group
	planned bool     // some cells are as planned, not as done
	left    []string // comment lines for what of the plan no frame was left for
}

// fillFromSlates goes through the frames in their order as Calibrate does.
func fillFromSlates(frames []frame.Frame, slates map[string]SlateSeen) startCells {
	out := startCells{cells: map[string]map[string]string{}, remarks: map[string]string{}, all: len(slates) > 0}
	methods := map[Method]bool{}
	var last map[string]string
	for _, f := range frames {
		now := last
		seen := slates[f.Name]
		if s, slate, err := ParseSlate(seen.Text); slate {
			now = nil
			says := fmt.Sprintf("shows a slate, but %v", err)
			if err == nil {
				now, says = s.cells(), "shows a slate: "+strings.Join(s.Parts(), " ")
				methods[s.method()] = true
			}
			if !seen.WithRuler {
				last, out.remarks[f.Name] = now, says
				continue
			}
		}
		out.cells[f.Name] = now
		if now["drop_mm"]+now["speed_mps"]+now["group"] == "" {
			out.all = false
		}
	}
	delete(methods, "")
	if len(methods) == 1 {
		for m := range methods {
			out.method = m
		}
	}
	return out
}

// cells are a slate's conditions as cells of shots.csv.
func (s Slate) cells() map[string]string {
	out := map[string]string{}
	for _, k := range s.slateKeys() {
		if *k.value != nil {
			out[k.name] = strconv.FormatFloat(**k.value/k.scale, 'g', 9, 64)
		}
	}
	if s.Group != nil {
		out["group"] = *s.Group
	}
	return out
}

// method is what a slate speaks of; "" where it fits either.
func (s Slate) method() Method {
	switch {
	case s.Drop != nil:
		return Drop
	case s.Speed != nil || s.Group != nil:
		return Push
	}
	return ""
}

// with returns the overrides with one more; o keeps its own.
func (o Overrides) with(key, text string) Overrides {
	o.Overrides = o.With(key, text)
	return o
}
