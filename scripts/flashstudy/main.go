// Command flashstudy measures how well two flashes of one frame are told apart, on pictures with
// known truth drawn from a seed, for developers.
//
//	go run ./scripts/flashstudy -seed 1
//
// Each frame is written as JPEG, looked at as calibrate looks, and interpreted; what is readable is
// decided by the scene before. In the last class the second flash did not fire: nothing may be read
// there. The status is 1 where a claim is not kept.
package main

import (
	"context"
	"flag"
	"fmt"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"time"

	"leadmark/calib/words"
	"leadmark/fit/parallel"
	"leadmark/vision"
	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
	"leadmark/vision/synth/photo"
)

func main() {
	seed := flag.Uint64("seed", 0, "seed of the study; there is no usual one")
	frames := flag.Int("frames", 24, "frames a class")
	verbose := flag.Bool("v", false, "a line a frame")
	flag.Parse()
	if *seed == 0 {
		fmt.Fprintln(os.Stderr, "error: no seed\nhint: add -seed N; keep some seeds unseen until the work is done")
		os.Exit(2)
	}
	all, err := study(*seed, *frames)
	if err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
	for _, x := range all {
		if *verbose {
			fmt.Println(x)
		}
	}
	s := claims(all, false)
	if err := s.Print(os.Stdout); err != nil {
		os.Exit(1)
	}
	os.Exit(s.Status())
}

// outcome is what became of one frame. Errors are NaN where there is no reading.
type outcome struct {
	class, text string
	why         string // it need not be read
	read        bool
	reason      string
	moved, u    float64 // mm: error and standard uncertainty of the movement
	graduation  float64 // mm
	scale       float64 // mm: largest error of a graduation's reading
	front       float64 // px: of the first front end, along the ruler
	frontU      float64
	seconds     float64 // that looking took
}

// study draws and reads all frames.
func study(seed uint64, frames int) ([]outcome, error) {
	dir, err := os.MkdirTemp("", "flashstudy")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	l := vision.NewLooker(native.Library{})
	out := make([]outcome, len(classes())*frames)
	err = parallel.Try(context.Background(), len(out), 0, func(ctx context.Context, i int) (err error) {
		class, number := i/frames, uint64(i%frames)
		s := sceneAt(class, seed, number)
		path := filepath.Join(dir, fmt.Sprintf("%d.jpg", i))
		out[i], err = one(ctx, l, &s, path)
		out[i].class, out[i].text = classes()[class], fmt.Sprintf("%d %s", number, s.Look.Name)
		return err
	})
	return out, err
}

// one draws and reads one frame.
func one(ctx context.Context, l *vision.Looker, s *photo.Scene, path string) (outcome, error) {
	nothing := math.NaN()
	x := outcome{moved: nothing, u: nothing, scale: nothing, front: nothing, frontU: nothing,
		graduation: s.Look.Graduation() / mm}
	im, truth := photo.Render(*s)
	x.why = unreadable(s, truth)
	file, err := os.Create(path)
	if err != nil {
		return x, err
	}
	defer os.Remove(path)
	defer file.Close()
	if err := jpeg.Encode(file, im, &jpeg.Options{Quality: 92}); err != nil {
		return x, err
	}
	f, refused := frame.Open(path)
	if refused != nil {
		return x, words.Err(refused)
	}
	front := s.Look.Front()
	spec := ruler.Spec{Graduation: s.Look.Graduation(), Front: &front, Toward: toward(s.Track.Travel), Twin: true}
	start := time.Now()
	seen, err := l.Look(ctx, f, ruler.Hint{Twin: &spec, Toward: spec.Toward})
	x.seconds = time.Since(start).Seconds()
	if err != nil {
		return x, err
	}
	x.judge(reading.Interpret(seen, spec), s, truth)
	return x, nil
}

func toward(travel string) ruler.Point {
	return map[string]ruler.Point{"right": {X: 1}, "left": {X: -1}, "down": {Y: 1}, "up": {Y: -1}}[travel]
}

// judge holds a reading against the truth.
func (x *outcome) judge(r ruler.Reading, s *photo.Scene, t photo.Truth) {
	if x.reason = r.Reason.Code; r.Status != ruler.StatusRead || r.Twin == nil {
		return
	}
	x.read = true
	x.moved, x.u = (r.Twin.Moved-moved(s))/mm, r.Twin.U/mm
	x.scale = 0
	for _, g := range t.Graduations {
		x.scale = max(x.scale, math.Abs(r.Scale.Reading(r.Scale.Along(g.PX))/mm-g.ReadingMM))
	}
	if r.Front != nil {
		along := t.Graduations[len(t.Graduations)-1].PX.Sub(t.Graduations[0].PX).Unit()
		x.front, x.frontU = along.Dot(r.Front.At.Sub(t.FrontPX)), r.Front.U
	}
}

func (x outcome) String() string {
	return fmt.Sprintf("%s %s: %s read %t wrong %t %s; moved %+.4f (u %.4f, %+.1f) mm, scale %.3f mm, "+
		"front %+.3f (u %.3f) px, %.2f s", x.class, x.text, x.why, x.read, x.wrong(), x.reason, x.moved, x.u,
		x.ratio(), x.scale, x.front, x.frontU, x.seconds)
}
