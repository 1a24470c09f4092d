package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"

	"leadmark/scripts/claim"
)

// mostCheck is what docs/check.md promises: times the processor time of decoding.
const mostCheck = 2.2

// check times leadmark check against decoding the same files whole, in colour.
func (o options) check(s *claim.Study) error {
	n, rounds := orElse(o.frames, 200), orElse(o.turns, 7)
	shoot := filepath.Join(o.dir, fmt.Sprintf("shoot%d", n))
	if err := drawShootOnce(shoot, n); err != nil {
		return err
	}
	files, err := pictures(shoot)
	if err != nil {
		return err
	}
	decode, err := o.decoding(files)
	if err != nil {
		return err
	}
	fmt.Printf("check: %d frames of 24 megapixels, %d processors\n", len(files), runtime.NumCPU())
	var found []float64
	t, err := turnAbout(rounds, func() (took, error) {
		out := shoot + "-report"
		if err := os.RemoveAll(out); err != nil {
			return took{}, err
		}
		t, _, err := timed(exec.Command(o.program, "check", shoot, "--lag-ms", "52", "--spread-ms", "0.5", "--out", out))
		if err != nil {
			return t, err
		}
		share, err := shareOf(filepath.Join(out, "shoot.json"), n, "found")
		found = append(found, share)
		return t, err
	}, decode)
	if err != nil {
		return err
	}
	show("by the clock, check to djpeg", t.ratio(clock))
	s.Hold("check to djpeg, processor time", t.ratio(cpu), claim.AtMost(mostCheck))
	s.Hold("animals found, in the worst turn", claim.Quantile(0, found), claim.AtLeast(0.95))
	return nil
}

// drawShootOnce draws a shoot of n frames where it is not there yet: four pictures, each file with
// a comment of its own.
func drawShootOnce(dir string, n int) error {
	return once(dir, func(part string) error {
		out, err := exec.Command("go", "run", "./scripts/drawshoot", "-frames", strconv.Itoa(n), "-drawn", "4",
			"-width", "6000", part).CombinedOutput()
		if err != nil {
			return fmt.Errorf("drawshoot: %w\n%s", err, out)
		}
		files, err := pictures(part)
		if err != nil {
			return err
		}
		for _, f := range files {
			data, err := os.ReadFile(f)
			if err != nil {
				return err
			}
			if err := os.Remove(f); err != nil { // it may share its data with others
				return err
			}
			if err := os.WriteFile(f, withComment(data, filepath.Base(f)), 0o666); err != nil {
				return err
			}
		}
		return nil
	})
}

// withComment puts a comment segment (ITU-T T.81, B.2.4.5) behind the start of image.
func withComment(jpeg []byte, text string) []byte {
	n := len(text) + 2
	out := append([]byte{0xFF, 0xD8, 0xFF, 0xFE, byte(n >> 8), byte(n)}, text...)
	return append(out, jpeg[2:]...)
}
