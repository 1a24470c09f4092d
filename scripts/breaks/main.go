// Command breaks breaks the program on purpose, one place at a time, and prints which breaks no test
// noticed. Each is laid into a copy of the tree, and the tests that must fail are run there. Places
// are found by names: a break whose place is gone is said, and fails the run.
//
//	go run ./scripts/breaks [-only PART] [-workers N]
//
// Status 0 where all were noticed, 1 where one was not or its place is gone.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"strings"
	"sync"

	"leadmark/fit/parallel"
)

func main() {
	only := flag.String("only", "", "only breaks whose name has this in it")
	workers := flag.Int("workers", 1, "copies that are tested at a time")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, *only, *workers); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, only string, workers int) error {
	var chosen []deliberate
	for _, b := range breaks() {
		if strings.Contains(b.name, only) {
			chosen = append(chosen, b)
		}
	}
	if len(chosen) == 0 {
		return fmt.Errorf("no break is called %q", only)
	}
	copies, remove, err := copyTree(ctx, min(workers, len(chosen)))
	if err != nil {
		return err
	}
	defer remove()
	free := make(chan string, len(copies))
	for _, dir := range copies {
		free <- dir
	}
	var mu sync.Mutex
	var failed []error
	err = parallel.Try(ctx, len(chosen), len(copies), func(ctx context.Context, i int) error {
		dir := <-free
		defer func() { free <- dir }()
		outcome := chosen[i].try(ctx, dir)
		mu.Lock()
		defer mu.Unlock()
		if outcome != nil && ctx.Err() == nil {
			failed = append(failed, outcome)
			fmt.Printf("NOT NOTICED  %s: %v\n", chosen[i].name, outcome)
		} else if ctx.Err() == nil {
			fmt.Printf("noticed      %s\n", chosen[i].name)
		}
		return ctx.Err()
	})
	fmt.Printf("%d breaks, %d noticed\n", len(chosen), len(chosen)-len(failed))
	if len(failed) > 0 {
		err = errors.Join(err, fmt.Errorf("%d breaks were not noticed", len(failed)))
	}
	return err
}
