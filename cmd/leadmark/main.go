package main

import (
	"io"
	"os"
	"os/signal"
	"syscall"
)

func main() { os.Exit(status(os.Args[1:], os.Stdout, os.Stderr)) }

// status runs the program and says on stderr what went wrong.
func status(args []string, stdout, stderr io.Writer) int { return newApp(stdout, stderr).status(args) }

func (a *app) status(args []string) int {
	signals := make(chan os.Signal, 2)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	defer signal.Stop(signals)
	return a.supervise(args, signals)
}
