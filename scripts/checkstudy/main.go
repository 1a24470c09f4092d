// Command checkstudy looks at drawn frames of animals with known truth, as JPEG files and on the
// way that leadmark check takes, and prints how the promises stand: animals found, false finds,
// outlines, whole or cut, noses, motion blur and causes of unsharpness.
//
//	checkstudy [-seed S] [-sets N] [-v]
//
// A set has five frames and two empty ones: 60 sets are 300 frames and 120 empty ones. Sets 1001 to
// 1060 served for development.
package main

import (
	"flag"
	"fmt"
	"os"
)

func main() {
	seed := flag.Uint64("seed", 1001, "of the first set")
	sets := flag.Int("sets", 60, "how many")
	width := flag.Int("width", 1200, "of the pictures, px")
	verbose := flag.Bool("v", false, "print a line for each frame that is off")
	flag.Parse()
	s := study{width: *width, verbose: *verbose}
	for i := range *sets {
		if err := s.set(*seed + uint64(i)); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(2)
		}
	}
	fmt.Print(s.report())
	if broken := s.broken(); len(broken) > 0 {
		fmt.Println("broken:", broken)
		os.Exit(1)
	}
}
