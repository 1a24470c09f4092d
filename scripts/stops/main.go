// Command stops tells the program to end at random moments of each of its commands, with Ctrl-C's
// signal and with TERM, and holds what it says it had written against what is on the disk, and the
// time it took against a second.
//
//	stops -program PATH [-tries N] [-seed S] [-within 1s] [-drawn DIR] [-only COMMAND] [-v]
//
// The commands work on copies of what leadmark demo draws. Hidden files are not looked at: caches,
// and leftovers that the next command takes away.
package main

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"time"
)

func main() {
	program := flag.String("program", "", "the program, built")
	tries := flag.Int("tries", 20, "of each command")
	seed := flag.Uint64("seed", 1, "of the moments")
	within := flag.Duration("within", time.Second, "how long a stop may take")
	drawn := flag.String("drawn", "", "folder that keeps what the commands work on, for the next time")
	only := flag.String("only", "", "one command by its name")
	verbose := flag.Bool("v", false, "print what each stop said")
	flag.Parse()
	path, err := filepath.Abs(*program)
	if err != nil || *program == "" {
		fmt.Fprintln(os.Stderr, "give the program: -program PATH")
		os.Exit(2)
	}
	s := study{program: path, within: *within, verbose: *verbose, drawn: *drawn,
		random: rand.New(rand.NewPCG(*seed, 0))}
	failures, err := s.all(*tries, *only)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	if failures > 0 {
		os.Exit(1)
	}
}
