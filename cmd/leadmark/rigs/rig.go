package rigs

import (
	"github.com/spf13/cobra"

	"leadmark/cmd/leadmark/command"
)

// Command makes rig, with the commands below it.
func Command(env *command.Env) *cobra.Command {
	c := &cobra.Command{
		Use:   "rig",
		Short: "Make, show, compare and restore rig profiles",
		Long: "A rig's profile is a folder: rig.toml, its description, which you write, and calibrations.jsonl,\n" +
			"to which each accepted calibration adds one line. Calibrations of different set-ups (body, focal\n" +
			"length, shutter, sync, exposure time, f-number) are kept apart.",
		Example: "  leadmark rig new greenhouse\n  leadmark rig show greenhouse",
		Args:    cobra.NoArgs,
		RunE:    func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(newCommand(env), showCommand(env), historyCommand(env), compareCommand(env), restoreCommand(env),
		listCommand(env))
	return c
}
