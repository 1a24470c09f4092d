package manual

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leadmark/calib/input"
)

// Hint says what a command line that was not understood may have meant, and where the
// command's help stands.
func Hint(c *cobra.Command, err error) string {
	var unknown unknownCommand
	if errors.As(err, &unknown) {
		c = unknown.below
	}
	help := c.CommandPath() + " --help shows how it is used"
	var wrong string
	if name, ok := strings.CutPrefix(err.Error(), "unknown flag: --"); ok {
		if near := input.Nearest(name, flagNames(c)); near != "" {
			return fmt.Sprintf("did you mean --%s? %s", near, help)
		}
	} else if _, failed := fmt.Sscanf(err.Error(), "unknown command %q", &wrong); failed == nil {
		if near := input.Nearest(wrong, commandNames(c)); near != "" {
			return fmt.Sprintf("did you mean %s %s? %s", c.CommandPath(), near, help)
		}
	}
	return help
}

// Help shows the help of a command, and tells of one that there is not.
func Help() *cobra.Command {
	return &cobra.Command{
		Use: "help [COMMAND]", Short: "Show how a command is used",
		Long:                  "Shows how a command is used, as leadmark COMMAND --help does.",
		Example:               "  leadmark help calibrate\n  leadmark help rig compare",
		DisableFlagsInUseLine: true,
		RunE: func(c *cobra.Command, args []string) error {
			at := c.Root()
			for _, name := range args {
				below, _, err := at.Find([]string{name})
				if err != nil || below == at {
					return unknownCommand{at, name}
				}
				at = below
			}
			at.InitDefaultHelpFlag()
			return at.Help()
		},
	}
}

// unknownCommand is that help was asked for a command that there is not, below one that there is.
type unknownCommand struct {
	below *cobra.Command
	name  string
}

func (u unknownCommand) Error() string {
	return fmt.Sprintf("unknown command %q for %q", u.name, u.below.CommandPath()) // as the library has it
}

// Plain is the error without what only a programmer understands.
func Plain(err error) string {
	said, _, _ := strings.Cut(err.Error(), ": strconv.")
	return said
}

// flagNames are the flags that a command takes.
func flagNames(c *cobra.Command) []string {
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	return names
}

// commandNames are those below a command.
func commandNames(c *cobra.Command) []string {
	var names []string
	for _, sub := range children(c) {
		names = append(names, sub.Name())
	}
	return names
}
