package main

import (
	"context"
	"fmt"
	"io"
	"strconv"
	"strings"

	"leadmark/calib/input"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/terminal"
	"leadmark/vision/ruler/printed"
)

func printSlates(ctx context.Context, env *command.Env, p *terminal.Printer, paper printed.Paper,
	o rulerOptions) error {
	cards, err := o.cards()
	if err != nil {
		return err
	}
	pages, err := printed.Slates(paper, cards)
	if err != nil {
		return err
	}
	err = env.Written.Print(ctx, o.slates, func(w io.Writer) error {
		return printed.WritePDF(w, pages, printed.Info{Title: "leadmark: slates", Made: env.Now()})
	})
	if err == nil {
		p.Linef("wrote %s: %d slates", o.slates, len(cards))
	}
	return err
}

// mostSlates bounds what is printed in one go.
const mostSlates = 200

// cards are the slates of every combination of the conditions given.
func (o rulerOptions) cards() ([]printed.Card, error) {
	texts := []string{"leadmark-slate/1"}
	for _, c := range []struct {
		key    string
		values []string
	}{{"drop_mm", o.drops}, {"speed_mps", o.speeds}, {"group", o.group}, {"delay_ms", o.delays}} {
		if len(c.values) == 0 {
			continue
		}
		var next []string
		for _, t := range texts {
			for _, v := range c.values {
				next = append(next, t+" "+c.key+"="+strings.TrimSpace(v))
			}
		}
		texts = next
	}
	if len(texts) > mostSlates {
		return nil, &input.Error{File: "--slates",
			What: fmt.Sprintf("would be %d slates; at most %d are printed at once", len(texts), mostSlates)}
	}
	var cards []printed.Card
	for _, t := range texts {
		s, _, err := runfile.ParseSlate(t)
		if err != nil {
			return nil, &input.Error{File: "--slates", What: err.Error()}
		}
		cards = append(cards, printed.Card{Symbol: s.Text(), Lines: plainWords(s)})
	}
	return cards, nil
}

// plainWords says a slate's conditions for a person.
func plainWords(s runfile.Slate) []string {
	var out []string
	say := func(name string, x *float64, scale float64, unit string) {
		if x != nil {
			out = append(out, name+" "+strconv.FormatFloat(*x*scale, 'g', 6, 64)+" "+unit)
		}
	}
	say("drop", s.Drop, 1e3, "mm")
	say("speed", s.Speed, 1, "m/s")
	if s.Group != nil {
		out = append(out, "group "+*s.Group)
	}
	say("delay", s.Delay, 1e3, "ms")
	return out
}
