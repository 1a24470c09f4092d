package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"leadmark/calib/input"
	"leadmark/cmd/leadmark/report"
)

// Exit statuses of the contract.
const (
	statusResult = 0
	statusNone   = 1
	statusWrong  = 2
)

// explain prints each fault that an error is made of, with its hint on lines of its own.
func explain(w io.Writer, err error) {
	for _, e := range input.Faults(err) {
		what, hint := input.Describe(e)
		fmt.Fprintf(w, "error: %s\n", indentAfterFirst(what, "       "))
		if hint != "" {
			fmt.Fprintf(w, "hint: %s\n", indentAfterFirst(hint, "      "))
		}
	}
}

func indentAfterFirst(text, indent string) string {
	return strings.ReplaceAll(strings.TrimRight(text, "\n"), "\n", "\n"+indent)
}

// usageError is a command line that could not be understood.
type usageError struct{ err error }

func (e usageError) Error() string { return e.err.Error() }
func (e usageError) Unwrap() error { return e.err }

// exitStatus maps an error to the exit status of the contract.
func exitStatus(err error) int {
	var wrong *input.Error
	var usage usageError
	switch {
	case err == nil:
		return statusResult
	case errors.As(err, &wrong), errors.As(err, &usage), errors.Is(err, report.ErrNotOurs):
		return statusWrong
	}
	return statusNone
}
