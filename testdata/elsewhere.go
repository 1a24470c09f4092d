package testdata

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Module returns the folder of a module that go.mod names: pictures that come with it are read from
// there.
func Module(t testing.TB, path string) string {
	t.Helper()
	return folder(t, "the module "+path, tell(t, "list", "-m", "-f", "{{.Dir}}", path))
}

// GoSource returns a folder of the Go distribution's source, whose test pictures are read from there.
func GoSource(t testing.TB, elem ...string) string {
	t.Helper()
	root := tell(t, "env", "GOROOT")
	return folder(t, "the Go distribution", filepath.Join(append([]string{root, "src"}, elem...)...))
}

// tell runs the go command for one line.
func tell(t testing.TB, args ...string) string {
	t.Helper()
	out, err := exec.Command("go", args...).Output()
	if err != nil {
		t.Fatalf("go %s: %v", strings.Join(args, " "), err)
	}
	return strings.TrimSpace(string(out))
}

func folder(t testing.TB, whose, dir string) string {
	t.Helper()
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		t.Fatalf("the test pictures of %s are missing: no folder %q", whose, dir)
	}
	return dir
}
