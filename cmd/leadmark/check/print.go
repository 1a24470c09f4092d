package check

import (
	"leadmark/calib/shoot"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/cmd/leadmark/terminal"
)

// printShoot prints what a shoot came to.
func printShoot(env *command.Env, r shoot.Result, notes []string) error {
	p := terminal.NewPrinter(env.Stdout)
	for _, l := range summary.Shoot(r) {
		p.Linef("%s", terminal.Hanging("", l))
	}
	if len(r.Warnings) > 0 {
		p.Linef("\nWarnings")
		for _, w := range r.Warnings {
			p.Linef("%s", terminal.Hanging("  ", words.Reason(w)))
		}
	}
	p.Linef("")
	for _, n := range notes {
		p.Linef("%s", n)
	}
	return p.Err()
}
