package manual

import (
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// optionLists lists the command's own options, those that stand in the place of keys of a file, and
// those of all commands.
func optionLists(c *cobra.Command) string {
	var own, stated, global []*pflag.Flag
	file := ""
	c.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if of := f.Annotations[ofFile]; len(of) > 0 {
			stated, file = append(stated, f), of[0]
		} else if !f.Hidden {
			own = append(own, f)
		}
	})
	c.InheritedFlags().VisitAll(func(f *pflag.Flag) { global = append(global, f) })
	return optionList("The options are:", own) + optionList("In the place of keys of "+file+":", stated) +
		optionList("Of all commands:", global)
}

func optionList(title string, flags []*pflag.Flag) string {
	if len(flags) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString(".Pp\n" + filled(title) + ".Bl -tag -width Ds\n")
	for _, f := range flags {
		kind, usage := pflag.UnquoteUsage(f)
		b.WriteString(".It ")
		if f.Shorthand != "" {
			b.WriteString("Fl " + f.Shorthand + " , ")
		}
		b.WriteString("Fl -" + f.Name)
		if kind != "" {
			b.WriteString(" Ar " + kind)
		}
		b.WriteString("\n" + filled(usage+standing(f)))
	}
	return b.String() + ".El\n"
}

// standing is the value that an option has where it is not given, as the help prints it.
func standing(f *pflag.Flag) string {
	switch f.DefValue {
	case "", "0", "false", "[]":
		return ""
	}
	return " (default " + f.DefValue + ")"
}
