package words

import (
	"errors"
	"strings"

	"leadmark/vision/frame"
)

// Err is an error in which a file's refusal, where there is one, is told by its sentence.
func Err(err error) error {
	var bad *frame.Refusal
	if !errors.As(err, &bad) {
		return err
	}
	return told{err, strings.Replace(err.Error(), bad.Error(), Sentence(bad.Note), 1)}
}

// told is an error with other words.
type told struct {
	error
	text string
}

func (t told) Error() string { return t.text }

func (t told) Unwrap() error { return t.error }
