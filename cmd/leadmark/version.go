package main

import (
	"fmt"
	"os"
	"runtime"

	"github.com/spf13/cobra"

	"leadmark/calib/provenance"
	"leadmark/cmd/leadmark/command"
	"leadmark/vision/pixel/native"
)

func versionCommand(env *command.Env) *cobra.Command {
	return &cobra.Command{
		Use: "version", Short: "Print the program's version, its commit and the OpenCV it is built on",
		Args: cobra.NoArgs, Example: "  leadmark version",
		RunE: env.Begin(func(*cobra.Command, []string) error {
			_, err := fmt.Fprintf(env.Stdout, "leadmark %s\n%s\n", env.Version, builtWith())
			return err
		}),
	}
}

// version is the release and the commit it was built from.
func version() string { return provenance.This().String() }

// builtWith names what else decides how a picture is read.
func builtWith() string {
	return fmt.Sprintf("OpenCV %s, %s, %s/%s", native.OpenCVVersion(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
}

// thisProgram tells builds apart, those of uncommitted code too: by the version, and by the size
// and time of the program's own file.
func thisProgram() string {
	mark := version()
	if path, err := os.Executable(); err == nil {
		if info, err := os.Stat(path); err == nil {
			mark += fmt.Sprintf(" %d %d", info.Size(), info.ModTime().UnixNano())
		}
	}
	return mark
}
