package main

import (
	_ "embed"
	"io"

	"github.com/spf13/cobra"
)

// licences is written by scripts/licences from the licence files of every module that is linked in.
//
//go:embed licences.txt
var licences string

func (a *app) licencesCommand() *cobra.Command {
	return &cobra.Command{
		Use: "licences", Short: "Print the licences of the program and of all that is built into it",
		Args: cobra.NoArgs, Example: "  leadmark licences",
		RunE: a.begin(func(*cobra.Command, []string) error {
			_, err := io.WriteString(a.stdout, licences)
			return err
		}),
	}
}
