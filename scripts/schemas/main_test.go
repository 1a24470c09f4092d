package main

import "testing"

// The schemas that are committed are those of the types as they are now.
func TestSchemasAreUpToDate(t *testing.T) {
	if err := run("../..", true); err != nil {
		t.Error(err)
	}
}
