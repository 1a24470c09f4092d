package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leadmark/input"
)

// usageHint says what a command line that was not understood may have meant, and where the command's help stands.
func usageHint(c *cobra.Command, err error) string {
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

// plainUsage is the error without what only a programmer understands.
func plainUsage(err error) string {
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
