// Command manual brings the manual up to date: it does what each page that shows output or pictures
// says, word by word, writes what the commands printed into the page, and makes the pictures. Run
// it in the project's folder.
//
//	go run ./scripts/manual [-check] [PAGE...]     all pages where none is named
package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"leadmark/scripts/manual/pages"
)

func main() {
	check := flag.Bool("check", false, "write nothing; fail where a file would change")
	flag.Parse()
	if err := run(*check, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func run(check bool, paths []string) error {
	work, err := os.MkdirTemp("", "manual")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	// without the commit: it would be another on each page, and a checkout need not know it
	if err := command(".", nil, "go", "build", "-buildvcs=false", "-o", filepath.Join(work, "bin", "leadmark"),
		"./cmd/leadmark"); err != nil {
		return err
	}
	b := bench{work: work, check: check}
	if len(paths) == 0 {
		if paths, err = filepath.Glob("docs/*.md"); err != nil {
			return err
		}
	}
	for _, path := range paths {
		if err := b.page(path); err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
	}
	if len(b.changed) > 0 && check {
		return fmt.Errorf("not what go run ./scripts/manual writes: %s", strings.Join(b.changed, ", "))
	}
	return nil
}

// bench is where the pages are tried: each in a folder and with a home folder of its own.
type bench struct {
	work    string
	check   bool
	changed []string
}

// page does what one page says, where it shows output or pictures of it.
func (b *bench) page(path string) error {
	p, err := pages.Read(path)
	if err != nil {
		return err
	}
	wanted := picturesOf(path)
	shows := slices.ContainsFunc(p.Steps, func(s pages.Step) bool { return s.Shown[0] > 0 })
	if !shows && len(wanted) == 0 {
		return nil
	}
	dir, home := filepath.Join(b.work, filepath.Base(path)), filepath.Join(b.work, filepath.Base(path)+"-home")
	for _, d := range []string{dir, home} {
		if err := os.Mkdir(d, 0o777); err != nil {
			return err
		}
	}
	outputs := make([]string, len(p.Steps))
	for i, s := range p.Steps {
		if outputs[i], err = b.step(s, dir, home); err != nil {
			return fmt.Errorf("line %d: %w", s.Line, err)
		}
	}
	if err := b.write(path, renewed(p, outputs)); err != nil {
		return err
	}
	for _, w := range wanted {
		picture, err := w.make(dir)
		if err != nil {
			return fmt.Errorf("%s: %w", w.name, err)
		}
		if err := b.write(filepath.Join("docs", "pictures", w.name), picture); err != nil {
			return err
		}
	}
	return nil
}

// step writes a file or runs commands, and returns what the last command printed. Commands that
// another script runs are left to it.
func (b *bench) step(s pages.Step, dir, home string) (string, error) {
	if s.File != "" {
		return "", os.WriteFile(pages.Place(s.File, dir, home), []byte(s.Text), 0o666)
	}
	printed := ""
	for _, line := range s.Commands {
		words := strings.Fields(line)
		if pages.Elsewhere(line) != "" || endless(words) {
			continue
		}
		var out bytes.Buffer
		env := []string{"PATH=" + filepath.Join(b.work, "bin") + string(filepath.ListSeparator) +
			os.Getenv("PATH"), "HOME=" + home}
		if words[0] == "leadmark" {
			words[0] = filepath.Join(b.work, "bin", "leadmark")
		}
		if err := command(dir, &runWith{env, &out}, words...); err != nil {
			return "", err
		}
		printed = out.String()
	}
	return strings.ReplaceAll(printed, home, "~"), nil
}

// endless says whether a command goes on until Ctrl-C. The tests of cmd/leadmark run those.
func endless(words []string) bool {
	return !slices.Contains(words, "--help") && (len(words) > 1 && words[1] == "desk" ||
		slices.Contains(words, "--follow"))
}

type runWith struct {
	env []string
	out *bytes.Buffer
}

func command(dir string, with *runWith, words ...string) error {
	var stderr bytes.Buffer
	cmd := exec.Command(words[0], words[1:]...)
	cmd.Dir, cmd.Stderr = dir, &stderr
	if with != nil {
		cmd.Env, cmd.Stdout = with.env, with.out
	}
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("%s: %w\n%s", strings.Join(words, " "), err, stderr.String())
	}
	return nil
}

// renewed is a page with the outputs of its commands in their places. A line of three dots in the
// page stands for lines that are left out: all before it must be there still, and what is behind it
// too.
func renewed(p pages.Page, outputs []string) []byte {
	var lines []string
	at := 0
	for i, s := range p.Steps {
		if s.Shown[0] == 0 {
			continue
		}
		lines = append(lines, p.Lines[at:s.Shown[0]]...)
		lines = append(lines, shortened(strings.Split(strings.TrimRight(outputs[i], "\n"), "\n"),
			p.Lines[s.Shown[0]:s.Shown[1]])...)
		at = s.Shown[1]
	}
	return []byte(strings.Join(append(lines, p.Lines[at:]...), "\n") + "\n")
}

// shortened leaves as many lines of an output out as the page does: it shows the first ones up to
// its line of three dots, and as many of the last ones as stand behind that.
func shortened(output, shown []string) []string {
	dots := slices.Index(shown, "...")
	behind := len(shown) - dots - 1
	if dots < 0 || dots+behind >= len(output) {
		return output
	}
	return slices.Concat(output[:dots], []string{"..."}, output[len(output)-behind:])
}

// undated is a text without the days on which something was learned: they are of the day on which the
// page was written.
func undated(text []byte) []byte {
	return regexp.MustCompile(`\b20\d\d-\d\d-\d\d\b`).ReplaceAll(text, []byte("YYYY-MM-DD"))
}

// write writes a file where it changes, days apart, or notes that it would.
func (b *bench) write(path string, text []byte) error {
	if old, err := os.ReadFile(path); err == nil && bytes.Equal(undated(old), undated(text)) {
		return nil
	}
	b.changed = append(b.changed, path)
	if b.check {
		return nil
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return err
	}
	return os.WriteFile(path, text, 0o666)
}
