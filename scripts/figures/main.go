// Command figures holds the figures of the manual against the commands that make them, which stand
// in comments below the paragraphs (parse.go has the form). It runs those that take under a minute
// and fails where a figure is no longer printed; the others it lists with -long.
//
//	go run ./scripts/figures [-long] [-only TEXT]
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

func main() {
	long := flag.Bool("long", false, "list the commands that take longer, and run nothing")
	only := flag.String("only", "", "only commands with this in them")
	flag.Parse()
	if err := run(*long, *only); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func run(long bool, only string) error {
	all, err := pages(".")
	if err != nil {
		return err
	}
	said := map[string]string{} // by command
	tried, wrong := 0, 0
	for _, f := range all {
		if !strings.Contains(f.command, only) {
			continue
		}
		switch {
		case long && f.long != "":
			fmt.Printf("%s:%d (%s): %s\n", f.file, f.line, f.long, f.command)
		case long || f.long != "":
		default:
			tried++
			if err := f.hold(said); err != nil {
				wrong++
				fmt.Printf("WRONG  %s:%d: %v\n", f.file, f.line, err)
				continue
			}
			fmt.Printf("holds  %s:%d: %s\n", f.file, f.line, strings.Join(f.prints, "; "))
		}
	}
	switch {
	case wrong > 0:
		return fmt.Errorf("%d of %d are no longer what their commands print", wrong, tried)
	case tried == 0 && !long:
		return fmt.Errorf("no command has %q in it", only)
	}
	return nil
}

// pages reads the comments of all pages that people read.
func pages(root string) (all []figures, err error) {
	files, err := filepath.Glob(filepath.Join(root, "*.md"))
	if err != nil {
		return nil, err
	}
	more, err := filepath.Glob(filepath.Join(root, "docs", "*.md"))
	if err != nil {
		return nil, err
	}
	for _, file := range append(files, more...) {
		text, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		found, err := parse(file, string(text))
		if err != nil {
			return nil, err
		}
		all = append(all, found...)
	}
	return all, nil
}

// hold runs the command, once for all that name it, and looks for the texts in what it prints.
func (f figures) hold(said map[string]string) error {
	out, done := said[f.command]
	if !done {
		text, err := exec.Command("bash", "-c", f.command).CombinedOutput()
		if err != nil {
			return fmt.Errorf("%s: %w\n%s", f.command, err, text)
		}
		out = string(text)
		said[f.command] = out
	}
	for _, p := range f.prints {
		if !strings.Contains(out, p) {
			return fmt.Errorf("%s does not print %q", f.command, p)
		}
	}
	return nil
}
