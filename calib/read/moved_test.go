package read

import (
	"context"
	"math"
	"testing"

	"leadmark/calib/runfile"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// In some frames all of the picture lies 12 px to the right and turned by 2 px at the rim; the still is
// one of them. Advances and the trip line are as if it did not, each frame's front end is told where
// the frame shows it, and what is added to u is told by the move.
func TestMovedFramesAreCarried(t *testing.T) {
	knocked := ruler.Shift{Middle: ruler.Point{X: 1000, Y: 500}, Half: 1100, Move: ruler.Point{X: 12}, Turned: 2, Whole: true}
	for i := range knocked.Cov {
		knocked.Cov[i][i] = 0.05 * 0.05
	}
	run := runfile.Run{Method: runfile.Drop, Travel: runfile.Right, HasShots: true,
		Ruler: runfile.RulerSpec{Graduation: 1e-3, Front: new(0.0)},
		Trip:  &runfile.TripSpec{Still: "still.jpg", U: 1e-4}}
	by := map[string]ruler.Sighting{}
	var folder Folder
	add := func(name string, front float64, moved int) {
		row := millimetres(front)
		if moved > 0 {
			row = carriedRow(row, knocked)
		}
		by[name] = ruler.Sighting{Width: 2000, Height: 1000, Rows: []ruler.Row{row}, Backdrop: ruler.Backdrop{Width: moved}}
		folder.Frames = append(folder.Frames, frame.Frame{Name: name, Digest: name})
		if name != "still.jpg" {
			run.Shots = append(run.Shots, runfile.ShotEntry{Frame: name, Use: true,
				Conditions: runfile.Conditions{Drop: 0.1, Gravity: 9.8}, Stated: runfile.Stated{Drop: true}})
		}
	}
	add("still.jpg", 703.7, 1)
	for i, name := range []string{"a.jpg", "b.jpg", "c.jpg", "d.jpg", "e.jpg"} {
		add(name, 1203.7+31.3*float64(i), i/3)
	}
	g, err := All(context.Background(), run, folder, Options{
		Look: func(_ context.Context, f frame.Frame, _ ruler.Hint) (ruler.Sighting, error) { return by[f.Name], nil },
		Shift: func(a, b ruler.Backdrop) (ruler.Shift, bool) {
			if b.Width > a.Width {
				return knocked, true
			}
			return ruler.Shift{Middle: knocked.Middle, Half: knocked.Half, Cov: knocked.Cov, Whole: true}, a.Width == b.Width
		}})
	if err != nil {
		t.Fatal(err)
	}
	line, err := g.Line()
	if err != nil {
		t.Fatal(err)
	}
	if x := line.A.Add(line.B).Mul(0.5).X; math.Abs(x-703.7) > 0.05 || line.U <= 1e-4 {
		t.Errorf("the trip line lies at %.2f px (u %v mm)", x, 1e3*line.U)
	}
	for i, f := range g.Advances(line)[1:] {
		want := 0.050 + 0.00313*float64(i)
		if f.Status != ruler.StatusRead || math.Abs(f.Advance-want) > 5e-6 {
			t.Errorf("%s: %s %s, advance %.3f mm, want %.3f", f.Name, f.Status, f.Reason, 1e3*f.Advance, 1e3*want)
			continue
		}
		at := ruler.Point{X: 1203.7 + 31.3*float64(i), Y: f.FrontPX.Y}
		if moved := i >= 3; moved != (f.Carried != nil) || moved && math.Abs(f.FrontPX.X-knocked.To(at).X) > 0.2 {
			t.Errorf("%s: the front end lies at %v, carried %v", f.Name, f.FrontPX, f.Carried)
		}
	}
}

// carriedRow is a row as a picture has it whose scene was moved.
func carriedRow(r ruler.Row, d ruler.Shift) ruler.Row {
	at := d.To(r.Origin)
	dir := d.To(r.Origin.Add(r.Dir.Mul(1000))).Sub(at)
	r.Origin, r.Dir = at, dir.Unit()
	for k, s := range r.Steps {
		r.Steps[k].Line = d.LineTo(s.Line)
	}
	return r
}
