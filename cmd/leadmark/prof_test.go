package main

import (
	"context"
	"os"
	"strings"
	"testing"
)

func TestProf(t *testing.T) {
	a := os.Getenv("PROF")
	if a == "" {
		t.Skip()
	}
	t.Log(run(context.Background(), strings.Fields(a), os.Stdout, os.Stderr))
}
