package manual

import (
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leadmark/calib/input"
	"leadmark/cmd/leadmark/terminal"
)

// Keys makes the flags that stand for keys of a file; texts holds what they are set to.
func Keys(file string, settings []input.Setting) (flags *pflag.FlagSet, texts map[string]*string) {
	flags, texts = pflag.NewFlagSet(file, pflag.ContinueOnError), map[string]*string{}
	flags.SortFlags = false
	for _, s := range settings {
		texts[s.Key] = flags.String(s.Flag, "", s.Help)
		flags.Lookup(s.Flag).Value = plainValue{flags.Lookup(s.Flag).Value}
		flags.Lookup(s.Flag).Annotations = map[string][]string{ofFile: {file}}
	}
	return flags, texts
}

// ofFile marks a flag that stands for a key of a file, whose name is the annotation's value.
const ofFile = "file"

// plainValue keeps the word "string" out of the help: most of these flags are numbers.
type plainValue struct{ pflag.Value }

func (plainValue) Type() string { return "value" }

// Usage prints how a command is used and lists the flags that stand for keys of a file by
// themselves.
func Usage(c *cobra.Command, file string, stated *pflag.FlagSet) error {
	own := pflag.NewFlagSet("own", pflag.ContinueOnError)
	c.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if stated.Lookup(f.Name) == nil {
			own.AddFlag(f)
		}
	})
	p := terminal.NewPrinter(c.OutOrStderr())
	p.Linef("Usage:\n  %s\n\nExamples:\n%s\n\nFlags:", c.UseLine(), c.Example)
	p.Linef("%s\nGlobal Flags:\n%s", own.FlagUsages(), c.InheritedFlags().FlagUsages())
	p.Linef("In the place of keys of %s:\n%s", file, strings.TrimRight(stated.FlagUsages(), "\n"))
	return p.Err()
}
