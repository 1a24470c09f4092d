package main

import (
	"runtime"
	"testing"
)

// The licences that are committed are those of the modules that are linked in now.
func TestLicencesAreUpToDate(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("other systems link other modules; what is committed was written on Linux")
	}
	if err := run("../..", true); err != nil {
		t.Errorf("%v", err)
	}
}

// Sentences of the licences' own texts (opensource.org); a text that is none of them is no licence.
func TestKind(t *testing.T) {
	bsd2 := "Redistributions in binary form must reproduce the above copyright\nnotice, this list of conditions"
	for text, want := range map[string]string{
		"Permission is hereby granted, free of charge, to any\nperson obtaining a copy": "MIT",
		bsd2: "BSD-2-Clause",
		bsd2 + " ... may be used to endorse or promote products derived":        "BSD-3-Clause",
		"                 Apache License\n           Version 2.0, January 2004": "Apache-2.0",
	} {
		if got, err := kind(text); got != want || err != nil {
			t.Errorf("%q is told as %q, %v; want %s", text, got, err, want)
		}
	}
	if got, err := kind("GNU GENERAL PUBLIC LICENSE Version 3"); err == nil {
		t.Errorf("a licence that is not known is told as %q", got)
	}
}
