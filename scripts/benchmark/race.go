package main

import (
	"context"
	"fmt"
	"leadmark/fit/parallel"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"syscall"
	"time"
)

// taken is what one call took.
type taken struct {
	wall time.Duration
	peak float64 // MB, largest resident size
}

// race times both in turn and prints the medians and their ratios.
func (o options) race(dir string, rounds int) error {
	files, err := filepath.Glob(filepath.Join(dir, "*.JPG"))
	if err != nil {
		return err
	}
	for _, f := range files { // from memory, not from the disk
		if _, err := os.ReadFile(f); err != nil {
			return err
		}
	}
	var decode, first, second []taken
	for range rounds {
		d, err := o.decodeAll(files)
		if err != nil {
			return err
		}
		a, b, err := o.calibrateTwice(dir)
		if err != nil {
			return err
		}
		decode, first, second = append(decode, d), append(first, a), append(second, b)
	}
	d, a, b := middle(decode), middle(first), middle(second)
	fmt.Printf("%5d frames   djpeg %.2f s   calibrate %.2f s, %.2f times that (best of each: %.2f)   again "+
		"%.2f s, %.1f %%   peak %.0f MB\n",
		len(files), d.wall.Seconds(), a.wall.Seconds(), ratio(a, d), ratio(least(first), least(decode)),
		b.wall.Seconds(), 100*ratio(b, a), most(first))
	return nil
}

func ratio(a, b taken) float64 { return a.wall.Seconds() / b.wall.Seconds() }

func sorted(v []taken) []taken {
	return slices.SortedFunc(slices.Values(v), func(a, b taken) int { return int(a.wall - b.wall) })
}

func middle(v []taken) taken { return sorted(v)[len(v)/2] }

func least(v []taken) taken { return sorted(v)[0] }

func most(v []taken) float64 {
	peak := 0.0
	for _, t := range v {
		peak = max(peak, t.peak)
	}
	return peak
}

// decodeAll decodes every file with as many processes at a time as there are processors.
func (o options) decodeAll(files []string) (taken, error) {
	start := time.Now()
	err := parallel.Try(context.Background(), len(files), 0, func(ctx context.Context, i int) error {
		err := exec.CommandContext(ctx, o.djpeg, "-grayscale", "-outfile", os.DevNull, files[i]).Run()
		if err != nil {
			return fmt.Errorf("djpeg: %w", err)
		}
		return nil
	})
	return taken{wall: time.Since(start)}, err
}

// calibrateTwice calibrates a run of which nothing is remembered, then once more with nothing changed.
func (o options) calibrateTwice(dir string) (first, second taken, err error) {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return first, second, err
	}
	out := abs + "-report"
	for _, left := range []string{out, filepath.Join(filepath.Dir(abs), "."+filepath.Base(abs)+".seen")} {
		if err := os.RemoveAll(left); err != nil {
			return first, second, err
		}
	}
	if first, err = o.calibrate(abs, out); err != nil {
		return first, second, err
	}
	second, err = o.calibrate(abs, out)
	return first, second, err
}

func (o options) calibrate(dir, out string) (taken, error) {
	c := exec.Command(o.program, "calibrate", dir, "--out", out, "--rigs", filepath.Join(o.dir, "rigs"))
	start := time.Now()
	text, err := c.CombinedOutput()
	t := taken{wall: time.Since(start)}
	if err != nil {
		return t, fmt.Errorf("leadmark calibrate: %w\n%s", err, text)
	}
	if u, ok := c.ProcessState.SysUsage().(*syscall.Rusage); ok {
		t.peak = float64(u.Maxrss) / 1024 // kB on Linux
	}
	return t, nil
}
