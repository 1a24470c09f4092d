package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"leadmark/calib/provenance"
	"leadmark/vision/pixel/native"
)

// --version and version say the same, and name the release that CHANGELOG.md has at its top.
func TestVersion(t *testing.T) {
	text, err := os.ReadFile("../../CHANGELOG.md")
	if err != nil {
		t.Fatal(err)
	}
	newest := regexp.MustCompile(`(?m)^## (\S+), (\S+)$`).FindSubmatch(text)
	if newest == nil || string(newest[1]) != provenance.Release || string(newest[2]) != provenance.Released {
		t.Errorf("CHANGELOG.md begins with %q; the program is %s of %s", newest, provenance.Release, provenance.Released)
	}
	for path, want := range map[string]string{"../../CITATION.cff": "\nversion: " + provenance.Release +
		"\ndate-released: " +
		provenance.Released + "\n",
		"../../docs/install.md": "./leadmark_" + provenance.Release + "_amd64.deb",
		"../../docs/index.md":   "version " + provenance.Release + ", " + provenance.Released[:4]} {
		if text, err := os.ReadFile(path); err != nil || !strings.Contains(string(text), want) {
			t.Errorf("%s does not say %q (%v)", path, want, err)
		}
	}
	var option, command bytes.Buffer
	if err := run(context.Background(), []string{"--version"}, &option, &option); err != nil {
		t.Fatal(err)
	}
	if err := run(context.Background(), []string{"version"}, &command, &command); err != nil {
		t.Fatal(err)
	}
	want := regexp.MustCompile(`^leadmark ` + regexp.QuoteMeta(provenance.Release) +
		`( \(commit [0-9a-f]{12}(, changed)?\))?\nOpenCV ` + regexp.QuoteMeta(native.OpenCVVersion()) +
		`, go\S+, \S+/\S+\n$`)
	if !want.Match(option.Bytes()) || option.String() != command.String() {
		t.Errorf("--version prints %q and version %q", option.String(), command.String())
	}
}

// OpenCV's own versions have three numbers; a program without one would not say how its pictures
// were read.
func TestOpenCVVersion(t *testing.T) {
	if v := native.OpenCVVersion(); !regexp.MustCompile(`^4\.\d+\.\d+`).MatchString(v) {
		t.Errorf("OpenCV's version is %q", v)
	}
}

// The same program built, copied or touched again is the same to what is remembered of frames; another is
// not.
func TestProgramIsItsContent(t *testing.T) {
	const printed = "LEADMARK_TEST_PRINT_PROGRAM"
	if os.Getenv(printed) != "" {
		fmt.Print(thisProgram(), "\n")
		return
	}
	path, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	mark := func(content []byte, age time.Duration) string {
		copied := filepath.Join(t.TempDir(), "copy")
		when := time.Now().Add(-age)
		if err := errors.Join(os.WriteFile(copied, content, 0o755), os.Chtimes(copied, when, when)); err != nil {
			t.Fatal(err)
		}
		c := exec.Command(copied, "-test.run=^TestProgramIsItsContent$")
		c.Env = append(os.Environ(), printed+"=1")
		out, err := c.Output()
		if err != nil {
			t.Fatal(err)
		}
		line, _, _ := strings.Cut(string(out), "\n")
		return line
	}
	old, now := mark(content, time.Hour), mark(content, 0)
	if old != now || old != thisProgram() {
		t.Errorf("one program's copies are %q, %q and %q", old, now, thisProgram())
	}
	if other := mark(append(content, 0), 0); other == old {
		t.Errorf("another program is %q too", other)
	}
}
