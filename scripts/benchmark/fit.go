package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"

	"leadmark/scripts/claim"
)

// What docs/method.md promises of 10,000 shots.
const (
	mostGrowth = 12   // times the processor time of 1,000
	mostLine   = 1500 // times that of a weighted line through as many points
)

// fit times the fit of 10,000 shots, with odd ones, budget, checks and advice, against that of 1,000
// and against numpy.polyfit with weights. Each test of fit that is run here fails where its fit does.
func (o options) fit(s *claim.Study) error {
	dir, err := os.MkdirTemp("", "benchmark-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	test := filepath.Join(dir, "fit.test")
	if out, err := exec.Command("go", "test", "-c", "-o", test, "./fit").CombinedOutput(); err != nil {
		return fmt.Errorf("go test -c ./fit: %w\n%s", err, out)
	}
	rounds := orElse(o.turns, 7)
	many := func() (took, error) { return fitted(test, 10000) }
	grown, err := turnAbout(rounds, many, func() (took, error) { return fitted(test, 1000) })
	if err != nil {
		return err
	}
	line, err := turnAbout(rounds, many, o.line)
	if err != nil {
		return err
	}
	show("10,000 shots", middle(grown.a, cpu).In("s", 1))
	show("a line through 10,000 points", middle(line.b, cpu).In("ms", 1e-3))
	s.Hold("10,000 shots to 1,000, processor time", grown.ratio(cpu), claim.AtMost(mostGrowth))
	s.Hold("10,000 shots to numpy.polyfit, processor time", line.ratio(cpu), claim.AtMost(mostLine))
	return nil
}

// fitted is what fitting so many shots takes, told by the benchmark of fit.
func fitted(test string, shots int) (took, error) {
	_, out, err := timed(exec.Command(test, "-test.run", "^$", "-test.bench", fmt.Sprintf("^BenchmarkManyShots$/^%d$", shots)))
	if err != nil {
		return took{}, err
	}
	m := regexp.MustCompile(fmt.Sprintf(`(?m)^BenchmarkManyShots/%d(?:-\d+)?\s.*?([0-9.e+-]+) cpu-s/op`, shots)).FindSubmatch(out)
	if m == nil {
		return took{}, fmt.Errorf("the benchmark of %d shots did not say what it took:\n%s", shots, out)
	}
	v, err := strconv.ParseFloat(string(m[1]), 64)
	return took{cpu: v}, err
}

// lineByNumPy fits a line with weights through 10,000 points a hundred times, and prints its slope and
// the processor time of each.
const lineByNumPy = `
import time, numpy
x = numpy.linspace(1, 4, 10000)
y = 0.05 * x + numpy.random.default_rng(1).normal(size=10000)
w = 1 / (1 + x)
numpy.polyfit(x, y, 1, w=w)
t = time.process_time()
for _ in range(100):
    slope = numpy.polyfit(x, y, 1, w=w)[0]
print(slope, (time.process_time() - t) / 100)`

// line is the side of NumPy. The slope was drawn as 0.05, and its standard error is 0.011.
func (o options) line() (t took, err error) {
	_, out, err := timed(exec.Command(o.python, "-c", lineByNumPy))
	if err != nil {
		return t, err
	}
	var slope float64
	if _, err := fmt.Sscan(string(out), &slope, &t.cpu); err != nil {
		return t, fmt.Errorf("NumPy said %q: %w", out, err)
	}
	if !(slope > 0 && slope < 0.1) {
		return t, fmt.Errorf("NumPy finds a slope of %g, not of 0.05", slope)
	}
	return t, nil
}
