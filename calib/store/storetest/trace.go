package storetest

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// changing are the calls of the system that change files or open them; between two of them a kill
// finds the same files.
const changing = "openat,linkat,renameat,renameat2,unlinkat,mkdirat,fchmod,fchmodat,ftruncate,fsync,fdatasync,write,pwrite64,flock,close"

// Traced is a program that is stopped at its calls of the system, by strace. Its main goroutine
// must keep to the main thread (runtime.LockOSThread in an init function), whose calls are counted.
type Traced struct {
	Program string
	Args    []string
	Env     []string // besides the test's own
	Dir     string   // where it runs; the calls are counted from the first that names a file below
}

// NeedStrace skips a test where strace is not installed, and fails it where it may not trace.
func NeedStrace(t *testing.T) {
	t.Helper()
	err := exec.Command("strace", "-f", "-o", os.DevNull, "true").Run()
	switch {
	case errors.Is(err, exec.ErrNotFound):
		t.Skip("strace is not installed (Debian package strace)")
	case err != nil:
		t.Fatalf("strace is installed and does not trace: %v", err)
	}
}

// command traces some calls to a log.
func (p Traced) command(log, calls string, more ...string) *exec.Cmd {
	args := append([]string{"-f", "-qq", "-o", log, "-e", "trace=" + calls}, more...)
	c := exec.Command("strace", append(append(args, p.Program), p.Args...)...)
	c.Env, c.Dir = append(os.Environ(), p.Env...), p.Dir
	return c
}

// Call is one call of the main thread.
type Call struct {
	Name string
	Nth  int    // of that name, from 1
	Text string // as strace prints it
}

// Writes says whether the call is one that a full disk refuses.
func (c Call) Writes() bool { return c.Name != "openat" || strings.Contains(c.Text, "O_CREAT") }

// Changes says whether the call changes files: a kill before any other finds what one before the
// next that does finds.
func (c Call) Changes() bool { return c.Writes() && c.Name != "close" && c.Name != "flock" }

// Calls runs the program to its end and lists its calls from the first that names a file below Dir.
func (p Traced) Calls(t *testing.T) []Call {
	t.Helper()
	log := filepath.Join(t.TempDir(), "trace")
	out, err := p.command(log, changing).CombinedOutput()
	if err != nil {
		t.Fatalf("%q: %v\n%s", p.Args, err, out)
	}
	text, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	line := regexp.MustCompile(`^([0-9]+) +([a-z0-9]+)(\(.*)$`)
	main, begun := "", false
	count := map[string]int{}
	var calls []Call
	for lines := bufio.NewScanner(bytes.NewReader(text)); lines.Scan(); {
		m := line.FindStringSubmatch(lines.Text())
		if m == nil || main != "" && m[1] != main {
			continue
		}
		main = m[1]
		count[m[2]]++
		if begun = begun || strings.Contains(m[3], p.Dir); begun {
			calls = append(calls, Call{m[2], count[m[2]], m[2] + m[3]})
		}
	}
	if len(calls) == 0 {
		t.Fatalf("%q names no file in %s", p.Args, p.Dir)
	}
	return calls
}

// Stop runs the program and stops it at a call: how is strace's, as signal=KILL, before the call,
// or error=ENOSPC in its place. It returns what the program said and whether it was killed.
func (p Traced) Stop(t *testing.T, at Call, how string) (said string, killed bool, err error) {
	t.Helper()
	// strace counts the calls of each name
	c := p.command(os.DevNull, changing, "-e", fmt.Sprintf("inject=%s:%s:when=%d", at.Name, how, at.Nth))
	out, err := c.CombinedOutput()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return string(out), exit != nil && !exit.Exited(), err
}
