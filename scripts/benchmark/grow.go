package main

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
)

// growTo times a run of n frames, made of the drawn ones over and over, each with a comment of its
// own so that no two files are the same.
func (o options) growTo(run string, n int) error {
	dir := filepath.Join(o.dir, fmt.Sprintf("grown%d", n))
	if err := os.RemoveAll(dir); err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if err := multiply(run, dir, n); err != nil {
		return err
	}
	return o.race(dir, 1)
}

// multiply writes a run of n frames after the frames of another.
func multiply(run, dir string, n int) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
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
