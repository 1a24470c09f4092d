package rigs

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"leadmark/calib/input"
	"leadmark/calib/rig"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/terminal"
)

// compareOptions are the flags of rig compare.
type compareOptions struct {
	json, anySetup bool
	margin, shared float64 // ms
}

func compareCommand(env *command.Env) *cobra.Command {
	var o compareOptions
	c := &cobra.Command{
		Use: "compare NAME [A] [B]", Short: "Hold two calibrations of a rig against each other",
		Long: "Says how far the lag of B lies from that of A and how their spreads compare, each with its 95 %\n" +
			"interval, and with --margin-ms whether the two lags are the same within that margin. A and B are\n" +
			"numbers as rig history lists them, times of acceptance, or \"last\". With A alone B is the " +
			"last; with neither\n" +
			"they are the last and the one before it of the same set-up.",
		Example: "  leadmark demo night1\n  leadmark rig new greenhouse\n  leadmark calibrate night1 --rig " +
			"greenhouse --accept\n" +
			"  leadmark demo night2 --seed 3\n  leadmark calibrate night2 --rig greenhouse --accept\n  " +
			"leadmark rig compare greenhouse --margin-ms 1",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) < 1 || len(args) > 3 {
				return errors.New("give the name of a rig, and at most two of its calibrations")
			}
			return nil
		},
	}
	c.Flags().BoolVar(&o.json, "json", false, "print JSON")
	c.Flags().Float64Var(&o.margin, "margin-ms", 0, "a difference of lags that would not matter, ms")
	c.Flags().Float64Var(&o.shared, "shared-ms", 0,
		"standard uncertainty that both lags have in common, such as of the same tape, ms")
	c.Flags().BoolVar(&o.anySetup, "any-setup", false, "compare even where the set-ups differ or are not stated")
	c.RunE = env.Begin(func(_ *cobra.Command, args []string) error {
		if err := o.validate(); err != nil {
			return err
		}
		return compare(env, args[0], args[1:], o)
	})
	return c
}

func (o compareOptions) validate() error {
	for flag, v := range map[string]float64{"--margin-ms": o.margin, "--shared-ms": o.shared} {
		if !(v >= 0 && v < 1e6) {
			return &input.Error{File: flag, What: fmt.Sprintf("is %v; it must be a time in milliseconds, not "+
				"below 0", v)}
		}
	}
	return nil
}

func compare(env *command.Env, name string, which []string, o compareOptions) error {
	store, err := env.Store()
	if err != nil {
		return err
	}
	h, err := store.History(name)
	if err != nil {
		return err
	}
	first, second, err := chosen(name, h, which)
	if err != nil {
		return err
	}
	c, err := rig.Compare(first, second, rig.CompareOptions{Margin: o.margin * 1e-3, Shared: o.shared * 1e-3,
		AnySetup: o.anySetup})
	if err != nil {
		return err
	}
	if o.json {
		return terminal.JSON(env.Stdout, rig.NewComparisonDocument(name, c))
	}
	return printComparison(env, c)
}

// chosen finds the two calibrations that are meant.
func chosen(name string, h rig.History, which []string) (first, second rig.Numbered, err error) {
	if len(h.Entries) < 2 {
		have := []string{"no calibration", "one calibration"}[len(h.Entries)]
		return first, second, &input.NoResult{What: name + " has " + have + "; two are needed for a comparison",
			Hint: "add one with: leadmark calibrate RUN --rig " + name + " --accept"}
	}
	second, _ = h.Entry(len(h.Entries))
	if len(which) == 2 {
		if second, err = h.Find(which[1]); err != nil {
			return first, second, err
		}
	}
	if len(which) > 0 {
		first, err = h.Find(which[0])
		if err == nil && first.Number == second.Number {
			err = &input.Error{File: "rig compare", What: fmt.Sprintf("both are calibration %d", first.Number),
				Hint: "name two of them; leadmark rig history lists them"}
		}
		return first, second, err
	}
	first, ok := h.Previous(second.Number)
	if !ok { // say why by comparing with the one before
		first, _ = h.Entry(second.Number - 1)
	}
	return first, second, nil
}

func printComparison(env *command.Env, c rig.Comparison) error {
	p := terminal.NewPrinter(env.Stdout)
	p.Linef("The first is calibration %d of %s, the second calibration %d of %s.", c.A.Number,
		c.A.Accepted.Format("2 January 2006 15:04"), c.B.Number, c.B.Accepted.Format("2 January 2006 15:04"))
	p.Linef("%s", historyTable([]rig.Numbered{c.A, c.B}))
	p.Linef("")
	if c.Lag != nil {
		p.Linef("%s", terminal.Hanging("", terminal.Sentence(words.Sentence(c.Lag.Note))))
	}
	if c.Spread != nil {
		p.Linef("%s", terminal.Hanging("", terminal.Sentence(words.Sentence(c.Spread.Note))))
	}
	for _, d := range c.Doubts {
		p.Linef("%s", terminal.Hanging("", "note: "+words.Sentence(d)))
	}
	return p.Err()
}
