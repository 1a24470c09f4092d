package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leadmark/calib/origin"
	"leadmark/calib/store"
)

// exitText says in the help and in the man pages what the exit status means.
const exitText = "0 a result was had, 1 none could be had, 2 the command line or a file was wrong"

// manpagesCommand is for those who package the program; people get its pages with man.
func (a *app) manpagesCommand() *cobra.Command {
	c := &cobra.Command{Use: "manpages DIR", Short: "Write the man pages into a folder", Hidden: true,
		Example: "  leadmark manpages man1", Args: oneArg("a folder")}
	c.RunE = a.begin(func(c *cobra.Command, args []string) error {
		if err := a.written.folder(args[0]); err != nil {
			return err
		}
		for _, page := range manPages(c.Root()) {
			if err := c.Context().Err(); err != nil {
				return err
			}
			path := filepath.Join(args[0], page.name+".1")
			err := a.written.step(kind{"1 page", "pages", " in " + args[0]}, path, func() (int, error) {
				return 1, store.Replace(store.System(), path, page.text)
			})
			if err != nil {
				return err
			}
		}
		return nil
	})
	return c
}

// manPage is one page in the language mdoc(7).
type manPage struct {
	name string // such as leadmark-rig-new
	text []byte
}

// manPages makes a page of each command from the very texts that --help prints.
func manPages(root *cobra.Command) []manPage {
	var pages []manPage
	for _, c := range visible(root) {
		pages = append(pages, manPage{pageName(c), mdoc(c)})
	}
	return pages
}

// visible lists a command and all below it that are meant for people.
func visible(c *cobra.Command) []*cobra.Command {
	list := []*cobra.Command{c}
	for _, child := range children(c) {
		list = append(list, visible(child)...)
	}
	return list
}

// children are the commands below one, without help, which every command has as an option.
func children(c *cobra.Command) []*cobra.Command {
	return slices.DeleteFunc(slices.Clone(c.Commands()),
		func(c *cobra.Command) bool { return !c.IsAvailableCommand() || c.Name() == "help" })
}

func pageName(c *cobra.Command) string { return strings.ReplaceAll(c.CommandPath(), " ", "-") }

// mdoc writes one page, its sections in the order that mdoc(7) recommends.
func mdoc(c *cobra.Command) []byte {
	date, err := time.Parse(time.DateOnly, origin.Released)
	if err != nil {
		panic(err) // a constant of this program, and a test makes every page
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, ".Dd %s\n.Dt %s 1\n.Os\n", date.Format("January 2, 2006"), strings.ToUpper(pageName(c)))
	fmt.Fprintf(&b, ".Sh NAME\n.Nm %s\n.Nd %s\n", pageName(c), lowerFirst(c.Short))
	fmt.Fprintf(&b, ".Sh SYNOPSIS\n%s", synopsis(c))
	b.WriteString(".Sh DESCRIPTION\n" + paragraphs(description(c)))
	c.InitDefaultHelpFlag()
	b.WriteString(optionLists(c))
	b.WriteString(subcommands(c))
	b.WriteString(".Sh ENVIRONMENT\n.Bl -tag -width Ds\n.It Ev LEADMARK_RIGS\n" +
		filled("Folder of the rigs' profiles, where the option --rigs is not given.") + ".El\n")
	b.WriteString(".Sh EXIT STATUS\n" + filled(upperFirst(exitText)+"."))
	b.WriteString(".Sh EXAMPLES\n.Bd -literal\n" + literal(c.Example) + ".Ed\n")
	b.WriteString(seeAlso(c))
	return b.Bytes()
}

func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }

// description is the long text without its line on the exit status, which has a section of its own.
func description(c *cobra.Command) string {
	text := c.Long
	if text == "" {
		text = c.Short + "."
	}
	return strings.TrimSuffix(text, "\n\nExit status: "+exitText+".")
}

func synopsis(c *cobra.Command) string {
	words := strings.Fields(c.UseLine())
	var b strings.Builder
	b.WriteString(".Nm leadmark\n")
	depth := strings.Count(c.CommandPath(), " ")
	for i, w := range words[1:] {
		switch {
		case i < depth:
			b.WriteString(".Cm " + w + "\n")
		case strings.HasPrefix(w, "["):
			b.WriteString(".Op Ar " + strings.Trim(w, "[]") + "\n")
		default:
			b.WriteString(".Ar " + w + "\n")
		}
	}
	return b.String()
}

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

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// subcommands lists the commands below one, with a word on each.
func subcommands(c *cobra.Command) string {
	if len(children(c)) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString(".Pp\nThe commands are:\n.Bl -tag -width Ds\n")
	for _, child := range children(c) {
		fmt.Fprintf(&b, ".It Cm %s\n%s", child.Name(), filled(child.Short))
	}
	return b.String() + ".El\n"
}

// seeAlso refers to the pages above, beside and below.
func seeAlso(c *cobra.Command) string {
	var names []string
	for _, other := range visible(c.Root()) {
		if near := other == c.Parent() || other.Parent() == c || other.Parent() == c.Parent(); near && other != c {
			names = append(names, pageName(other))
		}
	}
	return ".Sh SEE ALSO\n.Xr " + strings.Join(names, " 1 ,\n.Xr ") + " 1\n"
}
