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
	"leadmark/vision/ruler/reading"
	"leadmark/vision/synth/jpegfile"
	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/photo"
)

// A frame is drawn, of a paper strip that falls past a nest tube, and looked at: what is seen in it
// is read by package ruler.
func ExampleLooker_Look() {
	picture, truth := photo.Render(photo.Scene{
		Camera:   photo.Camera{Width: 800, Height: 1200, FocalPX: 4000, Centre: ruler.Point{X: 400, Y: 600}},
		Track:    photo.Track{Trip: photo.Vec{Z: 0.4}, Travel: "down"}, // 10 px to the millimetre
		Pose:     photo.Pose{Advance: 0.020},
		Look:     looks.PaperStrip(),
		Flash:    photo.Flash{Head: photo.Vec{Y: -0.2}, Power: 0.85, Pulse: photo.TailFor(50e-6)},
		Backdrop: photo.Backdrop{Kind: photo.Cloth, Behind: 0.1},
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
	if err := jpegfile.Write(path, picture, jpegfile.Exif{Orientation: 1}, 95); err != nil {
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
	read := reading.Interpret(seen, ruler.Spec{Toward: ruler.Point{Y: 1}})
	fmt.Printf("%s: %s, graduations of %.1f mm, %.1f px apart\n", f.Name, read.Status,
		1e3*read.Graduation, read.Graduation*read.PxPerM)
	fmt.Printf("front end at %.0f, drawn at %.0f px from the top\n", read.Front.At.Y, truth.FrontPX.Y)
	// Output:
	// IMG_0001.JPG: read, graduations of 1.0 mm, 10.0 px apart
	// front end at 800, drawn at 800 px from the top
}
