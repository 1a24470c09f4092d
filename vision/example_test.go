package vision_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"leadmark/vision"
	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/synth/runs"
)

// A frame is drawn, of a paper strip that falls past a nest tube, and looked at: what is seen in it
// is read by package ruler.
func ExampleLooker_Look() {
	picture, truth := runs.Render(runs.Scene{
		Camera:   runs.Camera{Width: 800, Height: 1200, FocalPX: 4000, Centre: ruler.Point{X: 400, Y: 600}},
		Track:    runs.Track{Trip: runs.Vec{Z: 0.4}, Travel: "down"}, // 10 px to the millimetre
		Pose:     runs.Pose{Advance: 0.020},
		Look:     runs.PaperStrip(),
		Flash:    runs.Flash{Head: runs.Vec{Y: -0.2}, Power: 0.85, Pulse: runs.TailFor(50e-6)},
		Backdrop: runs.Backdrop{Kind: runs.Cloth, Behind: 0.1},
		Speed:    2,
		Softness: 0.8,
	})
	dir, err := os.MkdirTemp("", "night1")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "IMG_0001.JPG")
	if err := runs.WriteJPEG(path, picture, runs.Exif{Orientation: 1}, 95); err != nil {
		fmt.Println(err)
		return
	}
	f, refusal := frame.Open(path)
	if refusal != nil {
		fmt.Println(refusal)
		return
	}
	seen, err := vision.NewLooker(native.Library{}).Look(context.Background(), f, ruler.Hint{})
	if err != nil {
		fmt.Println(err)
		return
	}
	reading := ruler.Interpret(seen, ruler.Spec{Toward: ruler.Point{Y: 1}})
	fmt.Printf("%s: %s, graduations of %.1f mm, %.1f px apart\n", f.Name, reading.Status,
		1e3*reading.Graduation, reading.Graduation*reading.PxPerM)
	fmt.Printf("front end at %.0f, drawn at %.0f px from the top\n", reading.Front.At.Y, truth.FrontPX.Y)
	// Output:
	// IMG_0001.JPG: read, graduations of 1.0 mm, 10.0 px apart
	// front end at 800, drawn at 800 px from the top
}
