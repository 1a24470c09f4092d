package manual

import (
	"slices"

	"github.com/spf13/cobra"
)

// ExitStatus says in the help and in the man pages what the exit status means.
const ExitStatus = "0 a result was had, 1 none could be had, 2 the command line or a file was wrong"

// Visible lists a command and all below it that are meant for people.
func Visible(c *cobra.Command) []*cobra.Command {
	list := []*cobra.Command{c}
	for _, child := range children(c) {
		list = append(list, Visible(child)...)
	}
	return list
}

// children are the commands below one, without help, which every command has as an option.
func children(c *cobra.Command) []*cobra.Command {
	return slices.DeleteFunc(slices.Clone(c.Commands()),
		func(c *cobra.Command) bool { return !c.IsAvailableCommand() || c.Name() == "help" })
}
