package rigs

import (
	"github.com/spf13/cobra"

	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/terminal"
)

func newCommand(env *command.Env) *cobra.Command {
	c := &cobra.Command{Use: "new NAME", Short: "Make a profile with a rig.toml to fill in",
		Example: "  leadmark rig new greenhouse", Args: command.OneArg("a name for the rig")}
	c.RunE = env.Begin(func(_ *cobra.Command, args []string) error {
		store, err := env.Store()
		if err != nil {
			return err
		}
		var path string
		err = env.Written.File("the profile of "+args[0], func() (err error) {
			path, err = store.New(args[0])
			return err
		})
		if err != nil {
			return err
		}
		p := terminal.NewPrinter(env.Stdout)
		p.Linef("Made the profile of %s. Fill in its description: %s", args[0], path)
		return p.Err()
	})
	return c
}
