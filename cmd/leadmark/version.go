package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"runtime"
	"time"

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

// thisProgram tells builds apart, those of uncommitted code too: by the version, and by the content of the
// program's own file; its time changes with each copy and each build of the same. Where the file cannot be
// read, as no other build may pass for this one, the mark is the process's own.
func thisProgram() string {
	digest, err := digestOfProgram()
	if err != nil {
		return fmt.Sprintf("%s process %d of %s", version(), os.Getpid(), time.Now())
	}
	return version() + " " + digest
}

func digestOfProgram() (string, error) {
	path, err := os.Executable()
	if err != nil {
		return "", err
	}
	file, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer file.Close()
	h := sha256.New()
	if _, err := io.Copy(h, file); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}
