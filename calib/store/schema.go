package store

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// ErrLater marks what a later version of the program wrote.
var ErrLater = errors.New("it was written by a later version of leadmark")

// CheckSchema holds the schema that a file states, as "leadmark/result/1", against the latest that
// is read, from whose number down to 1 all are. A later one is ErrLater, with what to do; any other
// is an error that names both.
func CheckSchema(got, latest string) error {
	kind, newest := split(latest)
	other, n := split(got)
	switch {
	case other != kind || n < 1:
		return fmt.Errorf("schema is %q, not %q", got, latest)
	case n > newest:
		return fmt.Errorf("%w (format %s; this one reads up to %s): install that version, and leave the file "+
			"as it is", ErrLater, got, latest)
	}
	return nil
}

// split parts a schema into what it is of and its number; 0 where it has none.
func split(schema string) (kind string, n int) {
	i := strings.LastIndexByte(schema, '/')
	n, err := strconv.Atoi(schema[i+1:])
	if i < 0 || err != nil || n < 1 {
		return schema, 0
	}
	return schema[:i], n
}
