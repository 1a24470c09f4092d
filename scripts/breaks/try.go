package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// deliberate is one break: what stands in a declaration of a room is replaced, and a test that must
// notice it.
type deliberate struct {
	name     string
	room     string // folder
	in       string // the declaration: a function, Type.Method, a constant
	old, new string
	tests    string // the room whose tests are run; "" for the same
	run      string // the tests, as go test -run takes them
}

// try lays the break into a copy of the tree, runs the tests, and puts the file back. The error says
// why it counts as not noticed; nil where a test failed.
func (b deliberate) try(ctx context.Context, tree string) error {
	path, text, err := broken(filepath.Join(tree, b.room), b.in, b.old, b.new)
	if err != nil {
		return err
	}
	whole, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	if err := os.WriteFile(path, text, 0o666); err != nil {
		return err
	}
	room := b.tests
	if room == "" {
		room = b.room
	}
	args := []string{"test", "-count=1", "-timeout=10m", "-run", b.run}
	if strings.HasPrefix(b.name, "race: ") { // the race detector alone sees it
		args = append(args, "-race", "-count=5") // by chance one turn may show nothing
	}
	c := exec.CommandContext(ctx, "go", append(args, "./"+room)...)
	c.Dir = tree
	out, failed := c.CombinedOutput()
	if err := os.WriteFile(path, whole, 0o666); err != nil {
		return err
	}
	return verdict(out, failed)
}

// verdict is nil where a test failed: a tree that does not build, or no test at all, tells nothing.
func verdict(out []byte, failed error) error {
	switch {
	case bytes.Contains(out, []byte("no tests to run")), bytes.Contains(out, []byte("[no test files]")):
		return errors.New("no test of that name")
	case failed == nil:
		return errors.New("every test passed")
	case bytes.Contains(out, []byte("--- FAIL")), bytes.Contains(out, []byte("panic:")):
		return nil
	}
	return fmt.Errorf("the tests did not run: %w\n%s", failed, out)
}

// copyTree makes copies of the working tree as git knows it, with a link to the photographs beside it
// where they are; remove takes them away.
func copyTree(ctx context.Context, n int) (copies []string, remove func(), err error) {
	top, err := os.MkdirTemp("", "breaks-")
	if err != nil {
		return nil, nil, err
	}
	remove = func() { _ = os.RemoveAll(top) }
	list, err := exec.CommandContext(ctx, "git", "ls-files", "-z", "-co", "--exclude-standard").Output()
	if err != nil {
		remove()
		return nil, nil, fmt.Errorf("git ls-files: %w", err)
	}
	photographs, err := filepath.Abs(filepath.Join("..", "shared"))
	if err == nil {
		err = os.Symlink(photographs, filepath.Join(top, "shared"))
	}
	if err != nil {
		remove()
		return nil, nil, err
	}
	for i := range n {
		dir := filepath.Join(top, fmt.Sprintf("tree%d", i))
		for name := range strings.SplitSeq(strings.TrimSuffix(string(list), "\x00"), "\x00") {
			if err := copyFile(name, filepath.Join(dir, name)); err != nil {
				remove()
				return nil, nil, err
			}
		}
		copies = append(copies, dir)
	}
	return copies, remove, nil
}

func copyFile(from, to string) error {
	text, err := os.ReadFile(from)
	if errors.Is(err, os.ErrNotExist) { // taken out of the working tree
		return nil
	}
	if err != nil {
		return err
	}
	info, err := os.Stat(from)
	if err != nil {
		return err
	}
	return errors.Join(os.MkdirAll(filepath.Dir(to), 0o777), os.WriteFile(to, text, info.Mode()))
}
