package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"sync"
	"time"

	"leadmark/fit/parallel"
)

// timed runs a program to its end.
func timed(c *exec.Cmd) (took, []byte, error) {
	var out bytes.Buffer
	c.Stdout, c.Stderr = &out, &out
	start := time.Now()
	if err := c.Start(); err != nil {
		return took{}, nil, err
	}
	stop, peak := make(chan struct{}), make(chan float64)
	go func() { peak <- watch(c.Process.Pid, stop) }()
	err := c.Wait()
	t := took{clock: time.Since(start).Seconds()}
	close(stop)
	t.peak = <-peak
	t.cpu = (c.ProcessState.UserTime() + c.ProcessState.SystemTime()).Seconds()
	if err != nil {
		return t, out.Bytes(), fmt.Errorf("%s: %w\n%s", c, err, bytes.TrimSpace(out.Bytes()))
	}
	return t, out.Bytes(), nil
}

// watch asks again and again, until it is stopped, for the most memory that a process held, in MB. What the
// system tells at its end (ru_maxrss) counts what this process held when it started the other.
func watch(pid int, stop chan struct{}) (most float64) {
	tick := time.NewTicker(20 * time.Millisecond)
	defer tick.Stop()
	for {
		text, _ := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid)) // it may have ended
		if _, rest, ok := strings.Cut(string(text), "VmHWM:"); ok {
			var kb float64
			if _, err := fmt.Sscan(rest, &kb); err == nil {
				most = max(most, kb/1024)
			}
		}
		select {
		case <-stop:
			return most
		case <-tick.C:
		}
	}
}

// decoding is the side that decodes files with djpeg, as many at a time as there are processors. That it
// decodes them whole is made sure of once, outside the time.
func (o options) decoding(files []string, flags ...string) (side, error) {
	err := parallel.Try(context.Background(), len(files), 0, func(ctx context.Context, i int) error {
		return o.decodesWhole(ctx, files[i], flags)
	})
	if err != nil {
		return nil, err
	}
	flags = append(flags, "-outfile", os.DevNull)
	return func() (took, error) {
		var mu sync.Mutex
		var all took
		start := time.Now()
		err := parallel.Try(context.Background(), len(files), 0, func(ctx context.Context, i int) error {
			one, _, err := timed(exec.CommandContext(ctx, o.djpeg, append(flags[:len(flags):len(flags)], files[i])...))
			mu.Lock()
			all.cpu += one.cpu
			mu.Unlock()
			return err
		})
		all.clock = time.Since(start).Seconds()
		return all, err
	}, nil
}

// decodesWhole holds what djpeg writes of a file, a PGM or PPM, against the size its header states.
func (o options) decodesWhole(ctx context.Context, file string, flags []string) error {
	c := exec.CommandContext(ctx, o.djpeg, append(flags[:len(flags):len(flags)], file)...)
	var said bytes.Buffer
	c.Stderr = &said
	out, err := c.Output()
	if err != nil || said.Len() > 0 { // it warns of damaged data
		return fmt.Errorf("%s: %v\n%s", c, err, said.Bytes())
	}
	var kind byte
	var w, h, top int
	if _, err := fmt.Sscanf(string(out[:min(len(out), 40)]), "P%c\n%d %d\n%d\n", &kind, &w, &h, &top); err != nil {
		return fmt.Errorf("%s wrote no picture: %w", c, err)
	}
	head := len(fmt.Sprintf("P%c\n%d %d\n%d\n", kind, w, h, top))
	each := map[byte]int{'5': 1, '6': 3}[kind]
	if want := w * h * each; want < 1 || len(out)-head != want {
		return fmt.Errorf("%s wrote %d bytes of a picture of %d x %d", c, len(out)-head, w, h)
	}
	return nil
}
