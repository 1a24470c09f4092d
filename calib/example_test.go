package calib_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"leadmark/calib"
	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// A run of which the advances were read by eye and typed into a table.
func ExampleFromReadings() {
	dir, err := os.MkdirTemp("", "night1")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	for name, text := range map[string]string{
		"run.toml": `rig = "greenhouse"
method = "drop"
travel = "down"
`,
		"readings.csv": `frame,advance_mm,u_mm,drop_mm
IMG_0001.JPG,117.8,0.1,200
IMG_0002.JPG,116.2,0.1,200
IMG_0003.JPG,117.1,0.1,200
IMG_0004.JPG,220.1,0.1,800
IMG_0005.JPG,221.4,0.1,800
IMG_0006.JPG,218.6,0.1,800
`} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			fmt.Println(err)
			return
		}
	}
	run, err := runfile.Load(dir, runfile.Overrides{})
	if err != nil {
		fmt.Println(err)
		return
	}
	readings, err := runfile.LoadReadings(filepath.Join(dir, "readings.csv"), run)
	if err != nil {
		fmt.Println(err)
		return
	}
	result, err := calib.FromReadings(run, readings)
	if err != nil {
		fmt.Println(err)
		return
	}
	lag := result.Fit.Lag
	next := result.Fit.NextShot
	fmt.Printf("lag %.1f ms, standard uncertainty %.1f ms, from %d shots\n", 1e3*lag.Value, 1e3*lag.U,
		len(result.Frames))
	fmt.Printf("next shot between %.1f and %.1f ms\n", 1e3*next.Low, 1e3*next.High)
	// Output:
	// lag 52.0 ms, standard uncertainty 0.5 ms, from 6 shots
	// next shot between 50.4 and 53.6 ms
}

// The looking function is given: the program passes that of vision.NewLooker, here a row of
// graduations stands where each frame is said to show it. The ruler falls to the right, 10 px to
// the millimetre, and the beam trips at x = 500.
func ExampleCalibrate() {
	line := ruler.Line{A: ruler.Point{X: 500}, B: ruler.Point{X: 500, Y: 400}}
	run := runfile.Run{Rig: "greenhouse", Method: runfile.Drop, Travel: runfile.Right,
		Ruler:    runfile.RulerSpec{Graduation: 1e-3, Front: new(0.0)},
		Trip:     &runfile.TripSpec{Line: &line, U: 0.2e-3},
		Defaults: runfile.Conditions{Gravity: runfile.StandardGravity}, HasShots: true}
	fronts := map[string]float64{}
	var folder read.Folder
	for i, shot := range []struct{ drop, advance float64 }{
		{0.2, 0.1178}, {0.2, 0.1162}, {0.2, 0.1171}, {0.8, 0.2201}, {0.8, 0.2214}, {0.8, 0.2186},
	} {
		name := fmt.Sprintf("IMG_%04d.JPG", i+1)
		fronts[name] = 500 + 1e4*shot.advance
		folder.Frames = append(folder.Frames, frame.Frame{Name: name, Width: 3000, Height: 400})
		run.Shots = append(run.Shots, runfile.ShotEntry{Frame: name, Use: true,
			Conditions: runfile.Conditions{Drop: shot.drop, Gravity: runfile.StandardGravity}})
	}
	look := func(_ context.Context, f frame.Frame, _ ruler.Hint) (ruler.Sighting, error) {
		return ruler.Sighting{Width: f.Width, Height: f.Height, Rows: []ruler.Row{millimetres(fronts[f.Name])}}, nil
	}
	result, err := calib.Calibrate(context.Background(), run, folder, read.Options{Look: look})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range result.Frames {
		fmt.Printf("%s %s, advance %.1f mm\n", f.Name, f.Status, 1e3*f.Advance)
	}
	fmt.Printf("lag %.1f ms, standard uncertainty %.1f ms\n", 1e3*result.Fit.Lag.Value, 1e3*result.Fit.Lag.U)
	// Output:
	// IMG_0001.JPG read, advance 117.8 mm
	// IMG_0002.JPG read, advance 116.2 mm
	// IMG_0003.JPG read, advance 117.1 mm
	// IMG_0004.JPG read, advance 220.1 mm
	// IMG_0005.JPG read, advance 221.4 mm
	// IMG_0006.JPG read, advance 218.6 mm
	// lag 52.2 ms, standard uncertainty 0.1 ms
}

// millimetres is a ruler of 300 mm as it is seen, its front end at x.
func millimetres(x float64) ruler.Row {
	row := ruler.Row{Origin: ruler.Point{Y: 200}, Dir: ruler.Point{X: 1}, Side: 1, Pitch: 10, HalfLength: 15,
		DarkMarks: true, Contrast: 0.3}
	for mm := 300; mm >= 0; mm-- {
		length := 15.0
		switch {
		case mm%10 == 0:
			length = 45
		case mm%5 == 0:
			length = 30
		}
		row.Marks = append(row.Marks, ruler.Mark{T: x - 10*float64(mm), U: 0.05, Index: -mm, Strength: 1,
			Length: length})
	}
	row.Steps = []ruler.Step{{T: x, U: 0.1, WidthPX: 2, Contrast: -0.5, Coherent: 1, Outline: ruler.Ends,
		Line: ruler.Line{A: ruler.Point{X: x, Y: 100}, B: ruler.Point{X: x, Y: 300}}}}
	return row
}
