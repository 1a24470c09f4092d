package main

import (
	"fmt"
	"os"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"

	"leadmark/cmd/leadmark/command"
	"leadmark/vision/pixel/native"
)

// What is released: the newest entry of CHANGELOG.md, which a test compares.
const (
	release  = "0.9.1"
	released = "2026-11-28"
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

// version is the release and the commit it was built from; work that was not committed is told as
// changed.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return release
	}
	return release + commit(info.Settings)
}

func commit(settings []debug.BuildSetting) string {
	revision, changed := "", ""
	for _, s := range settings {
		switch {
		case s.Key == "vcs.revision" && len(s.Value) >= 12:
			revision = s.Value[:12]
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = ", changed"
		}
	}
	if revision == "" {
		return ""
	}
	return " (commit " + revision + changed + ")"
}

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
