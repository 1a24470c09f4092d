package main

import (
	"context"
	"io"
	"strconv"

	"github.com/spf13/cobra"

	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/terminal"
	"leadmark/vision/ruler/coded"
	"leadmark/vision/ruler/printed"
)

func rulerCommand(env *command.Env) *cobra.Command {
	var o rulerOptions
	c := &cobra.Command{
		Use:   "ruler",
		Short: "Print the coded ruler, and slates",
		Long: "Prints strips to glue on a lath: a millimetre scale for people, with a code beside it that gives\n" +
			"the absolute reading from any 30 mm in the picture, whichever way round. A 150 mm bar on the sheet\n" +
			"shows whether the printer keeps the scale; --bar-mm takes what it measured and corrects it.\n" +
			"Up to 3 misread cells of the 29 in any 30 mm never give another reading, up to 4 where the\n" +
			"centimetre lines are seen; of chance patterns fewer than one in 12,000 would pass for a code.\n\n" +
			"With --slates it prints cards whose QR symbol states conditions. A slate photographed before a\n" +
			"batch of shots, or standing in their frames, fills shots.csv by itself.",
		Example: "  leadmark ruler --pdf ruler.pdf\n  leadmark ruler --pdf ruler.pdf --bar-mm 149.6 --paper letter\n" +
			"  leadmark ruler --slates slates.pdf --drop-mm 100,200,400 --delay-ms 0",
		Args: cobra.NoArgs,
	}
	f := c.Flags()
	f.StringVar(&o.pdf, "pdf", "", "PDF file to write the ruler to")
	f.StringVar(&o.svg, "svg", "", "SVG file to write the ruler to")
	f.StringVar(&o.slates, "slates", "", "PDF file to write slates to")
	f.StringVar(&o.paper, "paper", "a4", "paper: a4 or letter")
	f.IntVar(&o.length, "length-mm", 300, "length of the ruler, mm: tens from 50 to "+strconv.Itoa(coded.Cells))
	f.Float64Var(&o.bar, "bar-mm", 0, "length of the 150 mm bar as measured on a print made without this, mm")
	f.StringSliceVar(&o.drops, "drop-mm", nil, "slates: falls, mm, such as 100,200,400")
	f.StringSliceVar(&o.speeds, "speed-mps", nil, "slates: measured speeds, m/s")
	f.StringSliceVar(&o.delays, "delay-ms", nil, "slates: added delays, ms")
	f.StringSliceVar(&o.group, "group", nil, "slates: groups of pushes at one unknown speed")
	c.RunE = env.Begin(func(c *cobra.Command, _ []string) error {
		if err := o.validate(); err != nil {
			return err
		}
		return printRuler(c.Context(), env, o)
	})
	return c
}

// printRuler writes every file that was asked for, after all of them are ready.
func printRuler(ctx context.Context, env *command.Env, o rulerOptions) error {
	paper, err := o.sheet()
	if err != nil {
		return err
	}
	page := printed.Ruler(printed.RulerOptions{Paper: paper, LengthMM: o.length, BarMM: o.bar})
	info := printed.Info{Title: "leadmark: coded ruler", Made: env.Now()}
	p := terminal.NewPrinter(env.Stdout)
	for _, out := range []struct {
		path  string
		write func(io.Writer) error
	}{
		{o.pdf, func(w io.Writer) error { return printed.WritePDF(w, []printed.Page{page}, info) }},
		{o.svg, func(w io.Writer) error { return printed.WriteSVG(w, page, info) }},
	} {
		if out.path == "" {
			continue
		}
		if err := env.Written.Print(ctx, out.path, out.write); err != nil {
			return err
		}
		p.Linef("wrote %s: print it at 100 %% (actual size) and measure the bar before cutting", out.path)
		if o.bar != 0 {
			p.Linef("drawn %.2f %% longer; a print made without --bar-mm may be kept with graduation_mm = "+
				"%.5g in run.toml", 100*(printed.BarMM/o.bar-1), o.bar/printed.BarMM)
		}
	}
	if o.slates != "" {
		if err := printSlates(ctx, env, p, paper, o); err != nil {
			return err
		}
	}
	return p.Err()
}
