package calibrate

import (
	"strings"

	"leadmark/calib"
	"leadmark/calib/record"
	"leadmark/calib/rig"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/cmd/leadmark/terminal"
	"leadmark/vision/ruler"
)

// finished is a calibration that has a result and a report.
type finished struct {
	result calib.Result
	page   string        // path of report.html
	added  *rig.Appended // nil where it was not accepted

	against []string // how it compares with the calibration before it, a line each
}

// printResult prints the result: JSON for machines, else a table and what to do next for people.
func printResult(env *command.Env, d finished, json bool) error {
	if json {
		b, err := record.Encode(d.result)
		if err != nil {
			return err
		}
		if _, err := env.Stdout.Write(b); err != nil {
			return err
		}
		p := terminal.NewPrinter(env.Stderr)
		printAdded(p, d)
		return p.Err()
	}
	p := terminal.NewPrinter(env.Stdout)
	p.Linef("%s\n", summary.Head(d.result))
	p.Linef("%s", terminal.Answers(summary.Answer(d.result)))
	printFrames(p, d.result)
	printWarnings(p, d.result.Warnings)
	printAdvice(p, d.result)
	p.Linef("\nReport: %s", d.page)
	printAdded(p, d)
	return p.Err()
}

// printFrames says why frames were not read, one line a reason.
func printFrames(p *terminal.Printer, r calib.Result) {
	var order []string
	names := map[string][]string{}
	for _, f := range r.Frames {
		if f.Status == ruler.StatusRead {
			continue
		}
		why := strings.ReplaceAll(string(f.Status), "_", " ") + ", " + words.Reason(f.Reason)
		if names[why] == nil {
			order = append(order, why)
		}
		names[why] = append(names[why], f.Name)
	}
	if len(order) == 0 {
		return
	}
	p.Linef("\nNot read:")
	for _, why := range order {
		p.Linef("%s", terminal.Hanging("  ", strings.Join(names[why], ", ")+": "+why))
	}
}

func printWarnings(p *terminal.Printer, warnings []calib.Warning) {
	if len(warnings) == 0 {
		return
	}
	p.Linef("\nWarnings:")
	for _, w := range warnings {
		line := words.Reason(w.Note)
		if len(w.Frames) > 0 {
			line += " (" + strings.Join(w.Frames, ", ") + ")"
		}
		p.Linef("%s", terminal.Hanging("  ", line))
	}
}

func printAdvice(p *terminal.Printer, r calib.Result) {
	if r.Plan != nil {
		p.Linef("\nTo shoot until the goal is reached:")
		printSchedule(p, *r.Plan)
		return
	}
	if len(r.Fit.Advice) == 0 {
		return
	}
	p.Linef("\nTo shoot next:")
	for _, a := range r.Fit.Advice {
		p.Linef("%s", terminal.Hanging("  ", words.Sentence(a.Note)))
	}
}

func printAdded(p *terminal.Printer, d finished) {
	if d.added == nil {
		return
	}
	p.Linef("Added to the profile of %s, its calibration number %d: %s", d.result.Rig, d.added.Before+1, d.added.Path)
	if d.added.Again {
		p.Linef("note: a calibration from this very run was there already")
	}
	if d.added.Torn != "" {
		p.Linef("note: the last line there had been left unfinished, as by a crash; it was moved to %s", d.added.Torn)
	}
	for _, line := range d.against {
		p.Linef("%s", terminal.Hanging("", line))
	}
}
