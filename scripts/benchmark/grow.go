package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"leadmark/scripts/claim"
)

// What docs/files.md promises of ten times as many frames.
const (
	mostMemoryGrown = 1.7 // times the memory
	mostTimeGrown   = 1.2 // times the processor time a frame
)

// grow times a run of few and one of many frames: small pictures over and over, each file with a
// comment of its own, so that none is remembered from another.
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
			if err := multiply(drawn, dir, n); err != nil {
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

// multiply writes a run of n frames after the frames of another.
func multiply(run, dir string, n int) error {
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
	for k := range n {
		line := slices.Clone(lines[k%len(lines)])
		data, err := os.ReadFile(filepath.Join(run, line[column]))
		if err != nil {
			return err
		}
		line[column] = fmt.Sprintf("IMG_%05d.JPG", k+1)
		if err := os.WriteFile(filepath.Join(dir, line[column]), withComment(data, line[column]), 0o666); err != nil {
			return err
		}
		out = append(out, line)
	}
	return writeShots(filepath.Join(dir, "shots.csv"), out)
}

// withComment puts a comment segment (ITU-T T.81, B.2.4.5) behind the start of image.
func withComment(jpeg []byte, text string) []byte {
	n := len(text) + 2
	out := append([]byte{0xFF, 0xD8, 0xFF, 0xFE, byte(n >> 8), byte(n)}, text...)
	return append(out, jpeg[2:]...)
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
