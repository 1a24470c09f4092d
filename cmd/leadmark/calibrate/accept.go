package calibrate

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"leadmark/calib/input"
	"leadmark/calib/rig"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/command"
)

// accept adds a calibration to the rig's profile, and tells it with how it compares with the one
// before.
func accept(ctx context.Context, env *command.Env, name string, ready readied, done finished, o options) error {
	if err := rig.Acceptable(done.result); err != nil {
		what, hint := input.Describe(err)
		return errors.Join(printResult(env, done, o.json), &input.NoResult{What: what, Hint: hint + ": " + done.page})
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	var added rig.Appended
	err := env.Written.File("the profile of "+name, func() (err error) {
		added, err = ready.store.Accept(ctx, ready.profile, done.result, env.Now(), o.note)
		return err
	})
	if errors.Is(err, context.Canceled) {
		return err
	}
	if err != nil {
		return fmt.Errorf("%w\nhint: the report was written: %s", err, done.page)
	}
	done.added = &added
	done.against, err = againstLast(ready.store, name, added.Before+1)
	return errors.Join(err, printResult(env, done, o.json))
}

// againstLast holds an accepted calibration against the one before it, under the same set-up.
func againstLast(store rig.Store, name string, number int) ([]string, error) {
	h, err := store.History(name)
	if err != nil {
		return nil, err
	}
	this, ok := h.Entry(number)
	last, before := h.Previous(number)
	switch {
	case !ok:
		return nil, nil
	case !before && number > 1:
		earlier, _ := h.Entry(number - 1)
		why := strings.Join(earlier.On().Differences(this.On()), "; ")
		if why == "" {
			return nil, nil // the same run again
		}
		return []string{fmt.Sprintf("note: there is no earlier calibration of this set-up to hold it against "+
			"(calibration %d: %s)", number-1, why)}, nil
	case !before:
		return nil, nil
	}
	c, err := rig.Compare(last, this, rig.CompareOptions{})
	if err != nil {
		return []string{"note: it could not be held against the calibration before it: " + err.Error()}, nil
	}
	var lines []string
	for _, d := range c.Disagreements() {
		lines = append(lines, fmt.Sprintf("warning: it disagrees with the calibration before it: %s; find out what "+
			"changed before relying on either, or put the earlier one back with: leadmark rig restore %s %d",
			words.Sentence(d), name, last.Number))
	}
	return lines, nil
}
