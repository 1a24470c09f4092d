package reply

import (
	"errors"
	"net/http"
	"strings"

	"leadmark/calib/input"
)

// status is an error with the HTTP status it is answered with.
type status struct {
	code int
	err  error
}

func (s status) Error() string { return s.err.Error() }
func (s status) Unwrap() error { return s.err }

// Refused is that a request cannot be done: why, and what to do.
func Refused(code int, what, hint string) error {
	return status{code, &input.Error{What: what, Hint: hint}}
}

// NotFound is that there is no such thing here.
func NotFound(what string) error {
	return Refused(http.StatusNotFound, what, "go back to the first page and choose from what is there")
}

// Code is the HTTP status that an error is answered with.
func Code(err error) int {
	var st status
	var wrong *input.Error
	var none *input.NoResult
	switch {
	case errors.As(err, &st):
		return st.code
	case errors.As(err, &wrong), errors.As(err, &none):
		return http.StatusUnprocessableEntity
	}
	return http.StatusInternalServerError
}

// Problem is what went wrong, in a person's words.
type Problem struct {
	What string `json:"what"`
	Hint string `json:"hint,omitempty"`
}

// ProblemOf joins the faults that an error is made of.
func ProblemOf(err error) Problem {
	var p Problem
	for _, e := range input.Faults(err) {
		what, hint := input.Describe(e)
		p.What = strings.TrimPrefix(p.What+"; "+what, "; ")
		p.Hint = strings.TrimPrefix(p.Hint+"; "+hint, "; ")
	}
	p.Hint = strings.Trim(p.Hint, "; ")
	return p
}
