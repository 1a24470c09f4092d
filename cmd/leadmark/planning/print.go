package planning

import (
	"strings"

	"leadmark/calib/plan"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/report/planprint"
	"leadmark/cmd/leadmark/terminal"
)

// printPlan prints a plan as a page of plain answers.
func printPlan(env *command.Env, p plan.Plan, figure string) error {
	out := terminal.NewPrinter(env.Stdout)
	out.Linef("%s", terminal.Hanging("", planprint.Head(p).String()))
	if s := planprint.Settings(p); s != "" {
		out.Linef("%s", terminal.Hanging("", s))
	}
	for _, s := range planprint.Sections(p) {
		out.Linef("\n%s", s.Title)
		out.Linef("%s", indented(terminal.Answers(s.Lines)))
	}
	if len(p.Warnings) > 0 {
		out.Linef("\nWarnings")
		for _, w := range p.Warnings {
			out.Linef("%s", terminal.Hanging("  ", words.Reason(w)))
		}
	}
	out.Linef("\nCautions")
	for _, c := range p.Cautions {
		out.Linef("%s", terminal.Hanging("  ", words.Sentence(c)))
	}
	if figure != "" {
		out.Linef("\nThe drawn set: %s", figure)
	}
	return out.Err()
}

func indented(text string) string { return "  " + strings.ReplaceAll(text, "\n", "\n  ") }
