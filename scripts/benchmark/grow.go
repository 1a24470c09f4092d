package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"os"
	"path/filepath"
	"slices"

	"leadmark/fit/parallel"
	"leadmark/scripts/claim"
)

// What docs/files.md promises of ten times as many frames.
const (
	mostMemoryGrown = 1.7 // times the memory
	mostTimeGrown   = 1.2 // times the processor time a frame
)

// grow times a run of few and one of many frames: small pictures over and over, each with a grain of its
// own.
func (o options) grow(s *claim.Study) error {
	drawn := filepath.Join(o.dir, "small")
	if err := drawOnce(drawn, smallRun()); err != nil {
		return err
	}
	var read []float64
	of := func(n int) side {
		return func() (took, error) {
			dir, err := filepath.Abs(filepath.Join(o.dir, fmt.Sprintf("grown%d", n)))
			if err != nil {
				return took{}, err
			}
			defer func() {
				for _, made := range []string{dir, dir + "-report", seenOf(dir)} {
					os.RemoveAll(made)
				}
			}()
			if err := grown(drawn, dir, n); err != nil {
				return took{}, err
			}
			t, share, err := o.calibrated(dir, n)
			read = append(read, share)
			t.cpu /= float64(n)
			return t, err
		}
	}
	fmt.Printf("grow: %d and %d different files of %d pictures\n", o.few, o.many, smallRun().Shots*len(smallRun().Drops))
	t, err := turnAbout(orElse(o.turns, 1), of(o.many), of(o.few))
	if err != nil {
		return err
	}
	show("memory of many frames", middle(t.a, peak).In("MB", 1))
	show("memory of few frames", middle(t.b, peak).In("MB", 1))
	show("processor time a frame of many", middle(t.a, cpu).In("ms", 1e-3))
	show("processor time a frame of few", middle(t.b, cpu).In("ms", 1e-3))
	s.Hold("memory, many frames to few", t.ratio(peak), claim.AtMost(mostMemoryGrown))
	s.Hold("processor time a frame, many to few", t.ratio(cpu), claim.AtMost(mostTimeGrown))
	s.Hold("frames read, in the worst turn", claim.Quantile(0, read), claim.AtLeast(0.95))
	return nil
}

// grown writes a run of n frames after the frames of another, each decoded, with a grain of its own, and
// encoded again: no two show the same.
func grown(run, dir string, n int) error {
	if err := errors.Join(os.RemoveAll(dir), os.MkdirAll(dir, 0o777)); err != nil {
		return err
	}
	settings, err := os.ReadFile(filepath.Join(run, "run.toml"))
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(dir, "run.toml"), settings, 0o666); err != nil {
		return err
	}
	shots, err := readShots(filepath.Join(run, "shots.csv"))
	if err != nil {
		return err
	}
	head, lines := shots[0], shots[1:]
	column := slices.Index(head, "frame")
	out := [][]string{head}
	from := make([]string, n)
	for k := range n {
		line := slices.Clone(lines[k%len(lines)])
		from[k] = filepath.Join(run, line[column])
		line[column] = fmt.Sprintf("IMG_%05d.JPG", k+1)
		out = append(out, line)
	}
	err = parallel.Try(context.Background(), n, 0, func(_ context.Context, k int) error {
		return copied(from[k], filepath.Join(dir, fmt.Sprintf("IMG_%05d.JPG", k+1)), uint64(k))
	})
	return errors.Join(err, writeShots(filepath.Join(dir, "shots.csv"), out))
}

// copied writes a frame again with more grain.
func copied(from, to string, seed uint64) error {
	file, err := os.Open(from)
	if err != nil {
		return err
	}
	defer file.Close()
	shown, err := jpeg.Decode(file)
	if err != nil {
		return fmt.Errorf("%s: %w", from, err)
	}
	im := image.NewRGBA(shown.Bounds())
	draw.Draw(im, im.Rect, shown, shown.Bounds().Min, draw.Src)
	grain(im, seed)
	var out bytes.Buffer
	return errors.Join(encode(&out, im), os.WriteFile(to, out.Bytes(), 0o666))
}

func readShots(path string) ([][]string, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return csv.NewReader(f).ReadAll()
}

func writeShots(path string, lines [][]string) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	if err := csv.NewWriter(f).WriteAll(lines); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
