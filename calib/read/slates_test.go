package read

import (
	"context"
	"slices"
	"testing"

	"leadmark/calib/runfile"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// scene is what a pretended camera saw in one frame: a ruler, a slate, or both.
type scene struct {
	ruler bool
	text  string
	seen  bool // a symbol that cannot be read
}

// millimetres is a row of 60 mm of a millimetre ruler, as vision would hand it on.
func millimetres(at float64) ruler.Row {
	row := ruler.Row{Origin: ruler.Point{Y: 200}, Dir: ruler.Point{X: 1}, Side: 1, Pitch: 10, HalfLength: 15,
		DarkMarks: true, Contrast: 0.3}
	for i := range 61 {
		length := 15.0
		switch {
		case i%10 == 0:
			length = 45
		case i%5 == 0:
			length = 30
		}
		row.Marks = append(row.Marks, ruler.Mark{T: at - 10*float64(i), U: 0.05, Index: -i, Strength: 1,
			Length: length})
	}
	slices.Reverse(row.Marks)
	edge := ruler.Line{A: ruler.Point{X: at, Y: 100}, B: ruler.Point{X: at, Y: 300}}
	row.Steps = []ruler.Step{{T: at, U: 0.1, Line: edge, WidthPX: 2, Contrast: -0.5, Coherent: 1, Outline: ruler.Ends}}
	return row
}

// followed runs the slates over frames a.jpg, b.jpg, ... of a drop to the right and returns what
// became of each.
func followed(t *testing.T, run runfile.Run, scenes ...scene) Readings {
	t.Helper()
	run.Travel, run.Ruler = runfile.Right, runfile.RulerSpec{Graduation: 1e-3, Front: new(0.0)}
	var folder Folder
	by := map[string]ruler.Sighting{}
	for i, sc := range scenes {
		name := string(rune('a'+i)) + ".jpg"
		folder.Frames = append(folder.Frames, frame.Frame{Name: name})
		s := ruler.Sighting{Width: 2000, Height: 1000,
			Symbol: ruler.Symbol{Seen: sc.seen || sc.text != "", Text: sc.text}}
		if sc.ruler {
			s.Rows = []ruler.Row{millimetres(900 + 37*float64(i))}
		}
		by[name] = s
	}
	look := func(_ context.Context, f frame.Frame, _ ruler.Hint) (ruler.Sighting, error) { return by[f.Name], nil }
	g, err := All(context.Background(), run, folder, Options{Look: look})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestSlatesGovernTheFramesBehindThem(t *testing.T) {
	shot := scene{ruler: true}
	g := followed(t, runfile.Run{Method: runfile.Drop},
		scene{text: "leadmark-slate/1 drop_mm=100"}, shot, shot,
		// it stands in the frame: for that one alone
		scene{ruler: true, text: "leadmark-slate/1 drop_mm=250 delay_ms=3"},
		shot,
		scene{text: "leadmark-slate/1 drop_mm=400"}, shot, scene{text: "not for us"}, shot)
	want := []float64{0, 0.1, 0.1, 0.25, 0.1, 0, 0.4, 0.4, 0.4}
	for i, f := range g.Shots {
		slate := i == 0 || i == 5
		if (f.Reason.Code == CodeSlate) != slate || (f.Status == ruler.StatusLeftOut) != slate {
			t.Errorf("%s: %s %s", f.Name, f.Status, f.Reason)
		}
		if f.Conditions.Drop != want[i] {
			t.Errorf("%s: drop %v, want %v", f.Name, f.Conditions.Drop, want[i])
		}
	}
	if d := g.Shots[3].Conditions.Delay; d != 0.003 {
		t.Errorf("the standing slate's delay is %v", d)
	}
	if !slices.Equal(toRead(g.Shots), []int{1, 2, 3, 4, 6, 7, 8}) {
		t.Errorf("shots %v", toRead(g.Shots))
	}
}

func TestASlateThatCannotBeReadStopsTheOneBefore(t *testing.T) {
	shot := scene{ruler: true}
	g := followed(t, runfile.Run{Method: runfile.Drop}, scene{text: "leadmark-slate/1 drop_mm=100"}, shot,
		scene{seen: true}, shot,
		scene{text: "leadmark-slate/1 speed_mps=2"}, shot, scene{text: "leadmark-slate/1 drop_mm=300"}, shot)
	for i, want := range []string{CodeSlate, "", CodeSlate, CodeSlateUnread, CodeSlate, CodeSlateUnread,
		CodeSlate, ""} {
		if got := g.Shots[i].Reason.Code; got != want {
			t.Errorf("%s: %q, want %q", g.Shots[i].Name, got, want)
		}
	}
}

func TestShotsWinOverSlates(t *testing.T) {
	shot := scene{ruler: true}
	run := runfile.Run{Method: runfile.Drop, HasShots: true, Shots: []runfile.ShotEntry{
		{Frame: "b.jpg", Use: true, Conditions: runfile.Conditions{Drop: 0.2}, Stated: runfile.Stated{Drop: true}},
		{Frame: "c.jpg", Use: true},
	}}
	g := followed(t, run, scene{text: "leadmark-slate/1 drop_mm=100"}, shot, shot, shot)
	for i, want := range []float64{0, 0.2, 0.1, 0.1} { // d.jpg is not listed; the slate suffices for it
		if got := g.Shots[i].Conditions.Drop; got != want {
			t.Errorf("%s: drop %v, want %v", g.Shots[i].Name, got, want)
		}
	}
	if len(g.slates) != 1 || !slices.Equal(g.slates[0].Frames, []string{"b.jpg"}) {
		t.Errorf("%+v", g.slates)
	}
	if !slices.Equal(toRead(g.Shots), []int{1, 2, 3}) {
		t.Errorf("shots %v", toRead(g.Shots))
	}
}

func TestAGroupOnASlatePutsADefaultSpeedAside(t *testing.T) {
	run := runfile.Run{Method: runfile.Push, Defaults: runfile.Conditions{Speed: 2}}
	g := followed(t, run, scene{text: "leadmark-slate/1 group=a"}, scene{ruler: true})
	if c := g.Shots[1].Conditions; c.Group != "a" || c.Speed != 0 {
		t.Errorf("%+v", c)
	}
}
