package terminal

import (
	"io"

	"leadmark/calib/record"
)

// JSON prints a document.
func JSON(w io.Writer, v any) error {
	text, err := record.JSON("what was asked for", v)
	if err == nil {
		_, err = w.Write(text)
	}
	return err
}

// Line prints a document as one line.
func Line(w io.Writer, v any) error {
	text, err := record.Line("what was asked for", v)
	if err == nil {
		_, err = w.Write(text)
	}
	return err
}
