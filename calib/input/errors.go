package input

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
)

// Error says that a file, a folder or a flag is wrong: what, where, and what to do. A
// program that meets one ends with exit status 2.
type Error struct {
	File   string // the file, folder or flag
	Line   int    // counted from 1; 0 where no line can be named
	Column string // column of a table; "" elsewhere
	What   string // no capital, no full stop
	Hint   string // what to do next; "" where What says it
	Err    error  // the cause, may be nil
}

// Error joins place and fault; the hint is left to Remedies.
func (e *Error) Error() string {
	var b strings.Builder
	if e.File != "" {
		b.WriteString(e.File)
		if e.Line > 0 {
			fmt.Fprintf(&b, ":%d", e.Line)
		}
		b.WriteString(": ")
	}
	if e.Column != "" {
		fmt.Fprintf(&b, "column %s: ", e.Column)
	}
	b.WriteString(e.What)
	if e.Err != nil {
		fmt.Fprintf(&b, ": %v", e.Err)
	}
	return b.String()
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// Remedy returns the hint.
func (e *Error) Remedy() string { return e.Hint }

// NoResult says that the input was in order but no result could be had from it. A program
// that meets one ends with exit status 1.
type NoResult struct {
	What string
	Hint string
	Err  error
}

// Error says why there is no result.
func (e *NoResult) Error() string {
	if e.Err != nil {
		return fmt.Sprintf("%s: %v", e.What, e.Err)
	}
	return e.What
}

// Unwrap returns the cause.
func (e *NoResult) Unwrap() error { return e.Err }

// Remedy returns the hint.
func (e *NoResult) Remedy() string { return e.Hint }

// Faults lists the single faults that an error is made of: every part of errors that were
// joined, the error itself otherwise.
func Faults(err error) []error {
	if err == nil {
		return nil
	}
	joined, ok := err.(interface{ Unwrap() []error }) // not errors.As: what wraps a join has words of its own
	if !ok {
		return []error{err}
	}
	var all []error
	for _, e := range joined.Unwrap() {
		all = append(all, Faults(e)...)
	}
	return all
}

// Describe parts an error into what is wrong and what should be done next, "" where it does not
// say: the hint of the first error in the chain that has one, and lines of its text that begin
// with "hint: ".
func Describe(err error) (what, hint string) {
	var hints []string
	var r interface{ Remedy() string }
	if errors.As(err, &r) && r.Remedy() != "" {
		hints = append(hints, r.Remedy())
	}
	parts := strings.Split(err.Error(), "\nhint: ")
	return parts[0], strings.Join(append(parts[1:], hints...), "\n")
}

// maxFaults is how many faults of one file are listed before the rest are only counted.
const maxFaults = 8

// List collects what is wrong with one file, so that a person mends it in one go.
type List struct {
	list []error
	more int
}

// Add notes one more fault.
func (f *List) Add(e *Error) {
	if f.full() {
		f.more++
		return
	}
	f.list = append(f.list, e)
}

// full reports whether further faults are only counted.
func (f *List) full() bool { return len(f.list) == maxFaults }

// Err returns what was collected as one error, nil for nothing; a file's name stands for the faults
// past the first few.
func (f *List) Err(file string) error {
	if f.more > 0 {
		f.list = append(f.list, &Error{File: file, What: fmt.Sprintf("%d more faults like these", f.more)})
		f.more = 0
	}
	if len(f.list) == 1 {
		return f.list[0]
	}
	return errors.Join(f.list...)
}

// Cause is what a file's error says without the step and the path, which a message tells in its own
// words.
func Cause(err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err
	}
	var between *os.LinkError
	if errors.As(err, &between) {
		return between.Err
	}
	return err
}
