// Command house measures how the house is built, for developers: a line a package, and a summary.
//
//	go run ./scripts/house            # the whole tree
//	go run ./scripts/house -circles   # and the files of each circle
//	go run ./scripts/house ./fit      # some packages
//
// Files lie in a circle where each uses, directly or by way of others, what is declared in the
// others: constants, variables, functions, types, methods and fields. Tests are left out. The
// figures tell where to look, and no more: a figure met by merging files or by splitting a thought
// is not met.
package main

import (
	"flag"
	"fmt"
	"os"
)

func main() {
	circles := flag.Bool("circles", false, "print the files of each circle")
	flag.Parse()
	if err := run(".", *circles, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func run(dir string, circles bool, patterns []string) error {
	if len(patterns) == 0 {
		patterns = []string{"./..."}
	}
	rooms, err := measure(dir, patterns)
	if err != nil {
		return err
	}
	table(os.Stdout, rooms, circles)
	return nil
}
