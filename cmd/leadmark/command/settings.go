package command

import (
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// Settings are the flags that were given and bear on the numbers of a command's document, by name; nil
// without any. Where something is written to, and how it is shown, is none.
func Settings(c *cobra.Command) map[string]string {
	shown := []string{"json", "figure", "dark", "rigs", "out", "xmp", "cutouts", "force", "learn"}
	var out map[string]string
	c.Flags().Visit(func(f *pflag.Flag) {
		if slices.Contains(shown, f.Name) {
			return
		}
		if out == nil {
			out = map[string]string{}
		}
		out[f.Name] = f.Value.String()
	})
	return out
}
