package command

import (
	"fmt"

	"github.com/spf13/cobra"
)

// OneArg wants exactly one argument and says which.
func OneArg(what string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) == 1 {
			return nil
		}
		return fmt.Errorf("give %s; %d arguments were given", what, len(args))
	}
}
