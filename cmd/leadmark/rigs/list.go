package rigs

import (
	"github.com/spf13/cobra"

	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/terminal"
)

func listCommand(env *command.Env) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{Use: "list", Short: "Name the profiles there are", Example: "  leadmark rig list",
		Args: cobra.NoArgs}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	c.RunE = env.Begin(func(*cobra.Command, []string) error {
		store, err := env.Store()
		if err != nil {
			return err
		}
		names, err := store.List()
		if err != nil {
			return err
		}
		p := terminal.NewPrinter(env.Stdout)
		if asJSON {
			return terminal.JSON(env.Stdout, rig.NewListDocument(store.Root, names))
		}
		if len(names) == 0 {
			p.Linef("There are no profiles in %s yet; leadmark rig new NAME makes one.", store.Root)
		}
		for _, n := range names {
			p.Linef("%s", n)
		}
		return p.Err()
	})
	return c
}
