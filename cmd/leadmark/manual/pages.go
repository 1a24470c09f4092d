package manual

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"
)

// Page is one page in the language mdoc(7).
type Page struct {
	Name string // such as leadmark-rig-new
	Text []byte
}

// Pages makes a page of each command from the very texts that --help prints. It is dated by the day
// of the release.
func Pages(root *cobra.Command, released time.Time) []Page {
	var pages []Page
	for _, c := range Visible(root) {
		pages = append(pages, Page{pageName(c), mdoc(c, released)})
	}
	return pages
}

func pageName(c *cobra.Command) string { return strings.ReplaceAll(c.CommandPath(), " ", "-") }

// mdoc writes one page, its sections in the order that mdoc(7) recommends.
func mdoc(c *cobra.Command, released time.Time) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, ".Dd %s\n.Dt %s 1\n.Os\n", released.Format("January 2, 2006"), strings.ToUpper(pageName(c)))
	fmt.Fprintf(&b, ".Sh NAME\n.Nm %s\n.Nd %s\n", pageName(c), lowerFirst(c.Short))
	fmt.Fprintf(&b, ".Sh SYNOPSIS\n%s", synopsis(c))
	b.WriteString(".Sh DESCRIPTION\n" + paragraphs(description(c)))
	c.InitDefaultHelpFlag()
	b.WriteString(optionLists(c))
	b.WriteString(subcommands(c))
	b.WriteString(".Sh ENVIRONMENT\n.Bl -tag -width Ds\n.It Ev LEADMARK_RIGS\n" +
		filled("Folder of the rigs' profiles, where the option --rigs is not given.") + ".El\n")
	b.WriteString(".Sh EXIT STATUS\n" + filled(upperFirst(ExitStatus)+"."))
	b.WriteString(".Sh EXAMPLES\n.Bd -literal\n" + literal(c.Example) + ".Ed\n")
	b.WriteString(seeAlso(c))
	return b.Bytes()
}

func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// description is the long text without its line on the exit status, which has a section of its own.
func description(c *cobra.Command) string {
	text := c.Long
	if text == "" {
		text = c.Short + "."
	}
	return strings.TrimSuffix(text, "\n\nExit status: "+ExitStatus+".")
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
	for _, other := range Visible(c.Root()) {
		if near := other == c.Parent() || other.Parent() == c || other.Parent() == c.Parent(); near && other != c {
			names = append(names, pageName(other))
		}
	}
	return ".Sh SEE ALSO\n.Xr " + strings.Join(names, " 1 ,\n.Xr ") + " 1\n"
}
