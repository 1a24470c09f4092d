package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"leadmark/cmd/leadmark/manual"
	"leadmark/scripts/manual/pages"
)

// smallDemo in the environment lets the tests' leadmark draw a demonstration of fewer and smaller
// frames than people get.
const smallDemo = "LEADMARK_TEST_SMALL"

// TestManual does what each page of the manual says, and the example that each command's help ends
// with, command by command, with a home folder of its own. What a command prints is compared by
// scripts/manual, which draws the demonstration at its full size.
func TestManual(t *testing.T) {
	dir, commands := t.TempDir(), 0
	keep := func(name, script string) {
		if err := os.WriteFile(filepath.Join(dir, name+".txtar"), []byte(script), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for _, path := range manualFiles(t) {
		page, err := pages.Read(path)
		if err != nil {
			t.Fatal(err)
		}
		if script, n := pageScript(t, page); n > 0 {
			keep(strings.TrimSuffix(filepath.Base(path), ".md"), script)
			commands += n
		}
	}
	if commands < 20 {
		t.Fatalf("only %d commands were found in the manual", commands)
	}
	for _, c := range manual.Visible(newApp(os.Stdout, os.Stderr).root()) {
		if c.Example == "" {
			t.Errorf("the help of %s ends with no example", c.CommandPath())
		}
		script := ""
		for line := range strings.SplitSeq(c.Example, "\n") {
			script += scriptLine(strings.TrimSpace(line)) + "\n"
		}
		keep("help-"+strings.ReplaceAll(c.CommandPath(), " ", "-"), script)
	}
	runManual(t, dir, &demoCache{dir: t.TempDir()})
}

// The page of the commands shows what --help prints now; scripts/generate brings it up to date.
func TestCommandsPage(t *testing.T) {
	page, err := pages.Read("../../docs/commands.md")
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]bool{}
	for _, s := range page.Steps {
		var out bytes.Buffer
		args := strings.Fields(s.Commands[0])[1:]
		if err := run(context.Background(), args, &out, &out); err != nil {
			t.Errorf("line %d: %v", s.Line, err)
		}
		if shown := strings.Join(page.Lines[s.Shown[0]:s.Shown[1]],
			"\n"); shown != strings.TrimRight(out.String(), "\n") {
			t.Errorf("line %d: %s prints something else now: run scripts/generate", s.Line, s.Commands[0])
		}
		told[strings.Join(append([]string{"leadmark"}, args[:len(args)-1]...), " ")] = true
	}
	for _, c := range manual.Visible(newApp(os.Stdout, os.Stderr).root()) {
		if !told[c.CommandPath()] {
			t.Errorf("%s is not on the page", c.CommandPath())
		}
	}
}

// TestCommandsInTheTextExist holds every command that the manual's running text or its tables name,
// as code, against the commands and options there are.
func TestCommandsInTheTextExist(t *testing.T) {
	span, option := regexp.MustCompile("`leadmark ([^`]+)`"), regexp.MustCompile(`--[a-z0-9-]+`)
	n := 0
	for _, path := range manualFiles(t) {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range span.FindAllStringSubmatch(string(text), -1) {
			root := newApp(os.Stdout, os.Stderr).root()
			root.InitDefaultCompletionCmd()
			root.InitDefaultVersionFlag()
			c, _, err := root.Find(strings.FieldsFunc(m[1], func(r rune) bool { return r == ' ' || r == '\n' }))
			if err != nil || c == root && !strings.HasPrefix(m[1], "-") {
				t.Errorf("%s: %q is no command: %v", path, m[1], err)
				continue
			}
			c.InitDefaultHelpFlag()
			for _, o := range option.FindAllString(m[1], -1) {
				if name := strings.TrimPrefix(o, "--"); c.Flags().Lookup(name) == nil &&
					c.InheritedFlags().Lookup(name) == nil {
					t.Errorf("%s: %q: there is no option %s", path, m[1], o)
				}
			}
			n++
		}
	}
	if n < 30 {
		t.Errorf("only %d commands were found", n)
	}
}

// manualFiles are the pages that tell people what to type.
func manualFiles(t *testing.T) []string {
	t.Helper()
	list, err := filepath.Glob("../../docs/*.md")
	if err != nil {
		t.Fatal(err)
	}
	return append(list, "../../README.md", "../../DEVELOPERS.md")
}

// pageScript makes a test script of a page.
func pageScript(t *testing.T, page pages.Page) (script string, commands int) {
	var lines, files []string
	for _, s := range page.Steps {
		if s.File != "" {
			stored := fmt.Sprintf("block%d", s.Line)
			files = append(files, fmt.Sprintf("-- %s --\n%s", stored, s.Text))
			lines = append(lines, fmt.Sprintf("place %s %s", stored, s.File))
		}
		for _, command := range s.Commands {
			word, _, _ := strings.Cut(command, " ")
			elsewhere := pages.Elsewhere(command)
			switch {
			case slices.Contains([]string{"leadmark", "cp", "mkdir"}, word):
				lines = append(lines, fmt.Sprintf("# line %d", s.Line), scriptLine(command))
				commands++
			case elsewhere == "":
				t.Errorf("%s:%d: nothing runs %q: see Elsewhere in scripts/manual/pages", page.Path, s.Line, command)
			default:
				if _, err := os.Stat(filepath.Join("../..", elsewhere)); err != nil {
					t.Errorf("%s:%d: %v", page.Path, s.Line, err)
				}
			}
		}
	}
	return strings.Join(lines, "\n") + "\n" + strings.Join(files, ""), commands
}

// scriptLine is the line of a test script that runs a command, which must succeed. Those that go on
// until Ctrl-C are sent one.
func scriptLine(command string) string {
	switch {
	case !strings.HasPrefix(command, "leadmark "):
		return command
	case !strings.Contains(command, " --help") && (strings.HasPrefix(command, "leadmark desk") ||
		strings.Contains(command, " --follow")):
		return "interrupted " + command
	}
	return "step " + command
}

func runManual(t *testing.T, dir string, demos *demoCache) {
	testscript.Run(t, testscript.Params{
		Dir: dir,
		Setup: func(e *testscript.Env) error {
			home := filepath.Join(e.WorkDir, "home")
			e.Setenv("HOME", home)
			e.Setenv("XDG_CONFIG_HOME", "")
			e.Setenv("LEADMARK_RIGS", "")
			e.Setenv(smallDemo, "1")
			return os.Mkdir(home, 0o777)
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"step":        demos.step,
			"interrupted": interrupted,
			"place": func(ts *testscript.TestScript, _ bool, args []string) {
				path := pages.Place(args[1], ts.MkAbs("."), ts.Getenv("HOME"))
				ts.Check(os.WriteFile(path, []byte(ts.ReadFile(args[0])), 0o666))
			},
		},
	})
}

// demoCache draws each demonstration once.
type demoCache struct {
	dir  string
	lock sync.Mutex
}

// step runs leadmark, which must succeed. A demonstration that was drawn before is copied.
func (d *demoCache) step(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) < 3 || args[1] != "demo" || strings.HasPrefix(args[2], "-") {
		ts.Check(ts.Exec(args[0], args[1:]...))
		return
	}
	d.lock.Lock()
	defer d.lock.Unlock()
	drawn := filepath.Join(d.dir, strings.Join(args[3:], ""), "demo")
	if _, err := os.Stat(drawn); err != nil {
		ts.Check(ts.Exec(args[0], args[1:]...))
		ts.Check(os.CopyFS(drawn, os.DirFS(ts.MkAbs(args[2]))))
		return
	}
	ts.Check(os.CopyFS(ts.MkAbs(args[2]), os.DirFS(drawn)))
}

// interrupted starts leadmark, waits for its first line, or where it follows a run for its first
// answer, and sends it what Ctrl-C sends; it must end in good order.
func interrupted(ts *testscript.TestScript, _ bool, args []string) {
	path, _, _ := strings.Cut(ts.Getenv("PATH"), string(filepath.ListSeparator))
	if slices.Contains(args, "--listen") {
		args[slices.Index(args, "--listen")+1] = "127.0.0.1:0" // the address in the manual is another machine's
	} else if args[1] == "desk" && !slices.Contains(args, "--no-open") {
		args = append(args, "--no-open")
	}
	cmd := exec.Command(filepath.Join(path, args[0]), args[1:]...)
	cmd.Dir = ts.MkAbs(".")
	for _, key := range []string{"PATH", "HOME", "TMPDIR", "XDG_CONFIG_HOME", "LEADMARK_RIGS", smallDemo} {
		cmd.Env = append(cmd.Env, key+"="+ts.Getenv(key))
	}
	out, err := cmd.StdoutPipe()
	ts.Check(err)
	cmd.Stderr = cmd.Stdout
	ts.Check(cmd.Start())
	late := time.AfterFunc(patience, func() { cmd.Process.Kill() })
	defer late.Stop()
	awaited, printed := "", ""
	if slices.Contains(args, "--follow") {
		awaited = "Next:"
	}
	for lines, sent := bufio.NewScanner(out), false; lines.Scan(); {
		printed += lines.Text() + "\n"
		if !sent && strings.Contains(lines.Text(), awaited) {
			ts.Check(cmd.Process.Signal(os.Interrupt))
			sent = true
		}
	}
	if err := cmd.Wait(); err != nil {
		ts.Fatalf("%v: %v\n%s", args, err, printed)
	}
}
