package main

import (
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"leadmark/calib/provenance"
	"leadmark/calib/store"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/manual"
	"leadmark/cmd/leadmark/output"
)

// manpagesCommand is for those who package the program; people get its pages with man.
func manpagesCommand(env *command.Env) *cobra.Command {
	c := &cobra.Command{Use: "manpages DIR", Short: "Write the man pages into a folder", Hidden: true,
		Example: "  leadmark manpages man1", Args: command.OneArg("a folder")}
	c.RunE = env.Begin(func(c *cobra.Command, args []string) error {
		date, err := time.Parse(time.DateOnly, provenance.Released)
		if err != nil {
			return err
		}
		if err := env.Written.Make(args[0]); err != nil {
			return err
		}
		pages := output.Kind{One: "1 page", Many: "pages", Where: " in " + args[0]}
		for _, page := range manual.Pages(c.Root(), date) {
			if err := c.Context().Err(); err != nil {
				return err
			}
			path := filepath.Join(args[0], page.Name+".1")
			err := env.Written.Step(pages, path, func() (int, error) {
				return 1, store.Replace(store.System(), path, page.Text)
			})
			if err != nil {
				return err
			}
		}
		return nil
	})
	return c
}
