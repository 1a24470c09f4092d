package calib

import (
	"context"
	"fmt"
	"math"
	"strings"

	"leadmark/calib/runfile"
	"leadmark/fit/unit"
	"leadmark/vision/ruler"
)

// How corrections are followed while a run is read.

// handFront is where a person placed a frame's front end; nil where nobody did.
func (s *reader) handFront(i int) *ruler.Point { return s.run.Corrections.Of(s.frames[i].Name).Front }

// placeFronts puts the front end where a person marked it. The advance is then counted from that very place on the
// frame's own scale: neither the number its graduations were given nor what the other frames say of the end matters.
func (s *reader) placeFronts() {
	for _, i := range s.todo {
		if p := s.handFront(i); p != nil && s.readings[i].Status == ruler.StatusRead {
			s.readings[i].Front = endAt(s.readings[i].Scale, *p, s.run.Corrections.Of(s.frames[i].Name).FrontU)
		}
	}
}

// endAt is a front end at a place, carried along the marks' lean onto the ruler's long axis.
func endAt(c ruler.Scale, p ruler.Point, u float64) *ruler.End {
	across := ruler.Line{A: p, B: p.Add(c.MarkDir(c.Along(p)))}
	if q, meets := c.Long.Meet(across); meets {
		p = q
		across.A, across.B = q, q.Add(c.MarkDir(c.Along(q)))
	}
	return &ruler.End{At: p, Line: across, U: u, Reading: c.Reading(c.Along(p))}
}

// nearMark is how far beside a line drawn by hand graduations may lie, as a share of its length, and at least nearMarkPX:
// a person draws along the ruler, not always over the marks themselves.
const (
	nearMark   = 0.35
	nearMarkPX = 60
)

// lookMarked looks again in frames in which a person marked the ruler: only along that line, and at no other ruler.
func (s *reader) lookMarked(ctx context.Context) error {
	for _, i := range s.todo {
		line := s.run.Corrections.Of(s.frames[i].Name).Ruler
		if line == nil {
			continue
		}
		s.marked[i] = true
		within := math.Max(nearMarkPX, nearMark*line.B.Sub(line.A).Len())
		if err := s.look(ctx, []int{i}, ruler.Hint{Dir: line.Dir(), Near: line, Within: within, Body: within}); err != nil {
			return err
		}
		seen := s.sights.of(i)
		seen.Rows = nearestAlong(seen.Rows, *line)
		if len(seen.Rows) == 0 && seen.Refusal.Code == "" {
			seen.Refusal = ruler.Reason{Code: "no-ruler", Text: "no row of graduations lies along the line drawn by hand; draw it over the graduations themselves"}
		}
		s.sights.put(i, seen)
	}
	return nil
}

// nearestAlong keeps the row that lies nearest to a line drawn by hand, of those that run between its ends or across them.
func nearestAlong(rows []ruler.Row, line ruler.Line) []ruler.Row {
	var out []ruler.Row
	least := math.Inf(1)
	dir, length := line.Dir(), line.B.Sub(line.A).Len()
	for _, r := range rows {
		a, b := r.Mid(r.Marks[0].T), r.Mid(r.Marks[len(r.Marks)-1].T)
		from, to := dir.Dot(a.Sub(line.A)), dir.Dot(b.Sub(line.A))
		if away := math.Abs(line.Distance(a.Add(b).Mul(0.5))); max(from, to) > 0 && min(from, to) < length && away < least {
			least, out = away, []ruler.Row{r}
		}
	}
	return out
}

// correctionWarnings tells what a person changed, so that nobody takes it for measured, and which corrections had no
// effect.
func correctionWarnings(run runfile.Run, frames []FrameResult) []Warning {
	var out []Warning
	told := map[string][]string{}
	there := map[string]bool{}
	var idle []string
	for _, f := range frames {
		there[f.Name] = true
		for _, kind := range f.Corrected {
			told[kind] = append(told[kind], f.Name)
		}
		if f.Status == ruler.StatusRefused && len(f.Corrected) > 0 {
			idle = append(idle, f.Name)
		}
	}
	say := func(kind, text string) {
		if len(told[kind]) > 0 {
			out = append(out, Warning{Code: "by-hand", Text: text, Frames: told[kind]})
		}
	}
	say(runfile.CorrectedFront, "the front end in these frames was placed by hand, as "+runfile.CorrectionsFileName+" says")
	say(runfile.CorrectedRuler, "the ruler in these frames was looked for where a person marked it, as "+runfile.CorrectionsFileName+" says")
	say(runfile.CorrectedLeftOut, "a person left these frames out, as "+runfile.CorrectionsFileName+" says")
	if t := run.Corrections.Trip; t != nil {
		out = append(out, Warning{Code: "by-hand", Text: fmt.Sprintf("the trip line was placed by hand, to %s mm, as %s says", unit.Decimal(unit.Stated(t.U*1e3)), runfile.CorrectionsFileName)})
	}
	var gone []string
	for _, c := range run.Corrections.Frames {
		if !there[c.Frame] {
			gone = append(gone, c.Frame)
		}
	}
	if len(gone) > 0 {
		out = append(out, Warning{Code: "by-hand-unused", Text: runfile.CorrectionsFileName + " speaks of " + strings.Join(gone, ", ") + ", which the folder does not have; take the entries out if the frames will not come back"})
	}
	if len(idle) > 0 {
		out = append(out, Warning{Code: "by-hand-unused", Text: "these frames were corrected by hand and still cannot be read", Frames: idle})
	}
	return out
}
