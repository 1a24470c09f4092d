package main

import (
	_ "embed"
	"io"

	"github.com/spf13/cobra"

	"leadmark/cmd/leadmark/command"
)

// licences is written by scripts/licences from the licence files of every module that is linked in.
//
//go:embed licences.txt
var licences string

func licencesCommand(env *command.Env) *cobra.Command {
	return &cobra.Command{
		Use: "licences", Short: "Print the licences of the program and of all that is built into it",
		Args: cobra.NoArgs, Example: "  leadmark licences",
		RunE: env.Begin(func(*cobra.Command, []string) error {
			_, err := io.WriteString(env.Stdout, licences)
			return err
		}),
	}
}
