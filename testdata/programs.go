package testdata

import (
	"errors"
	"os/exec"
	"testing"
)

// Program returns where an outside program is that a test asks, of a Debian package. A test is
// skipped where the program is not installed; one that is installed and fails at what it is tried
// with is a failure.
func Program(t testing.TB, name, pkg string, try ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if errors.Is(err, exec.ErrNotFound) {
		t.Skipf("%s is not installed (Debian package %s)", name, pkg)
	}
	if err == nil && len(try) > 0 {
		var out []byte
		if out, err = exec.Command(path, try...).CombinedOutput(); err != nil {
			t.Logf("%s", out)
		}
	}
	if err != nil {
		t.Fatalf("%s is installed and does not run: %v", name, err)
	}
	return path
}

// NumPy returns a Python that has NumPy.
func NumPy(t testing.TB) string {
	t.Helper()
	python := Program(t, "/usr/bin/python3", "python3", "-c", "")
	out, err := exec.Command(python, "-c", "import importlib.util as u; print(u.find_spec('numpy') is not None)").Output()
	if err != nil {
		t.Fatalf("%s does not run: %v", python, err)
	}
	if string(out) == "False\n" {
		t.Skip("NumPy is not installed (Debian package python3-numpy)")
	}
	return Program(t, python, "python3", "-c", "import numpy")
}
