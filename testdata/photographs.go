package testdata

import (
	"os"
	"path/filepath"
	"testing"
)

// Photographs returns a folder of photographs of real rulers with hand-read graduations (its README
// says what and whose), "rulers" or "rulers-more". Their licences differ: they are never committed,
// and lie beside the repository. A test is skipped where they do not.
func Photographs(t testing.TB, name string) string {
	t.Helper()
	dir := PhotographFolder(t, name)
	if _, err := os.Stat(filepath.Join(dir, "truth.json")); err != nil {
		t.Skipf("no photographs here: %v", err)
	}
	return dir
}

// PhotographFolder is where the photographs would lie, for a test that does with fewer pictures.
func PhotographFolder(t testing.TB, name string) string {
	t.Helper()
	return filepath.Join(root(t), "..", "shared", name)
}

// root is the top of the repository: tests run in the folder of their package.
func root(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	for err == nil {
		if _, missing := os.Stat(filepath.Join(dir, "go.mod")); missing == nil {
			return dir
		}
		if filepath.Dir(dir) == dir {
			err = os.ErrNotExist
		}
		dir = filepath.Dir(dir)
	}
	t.Fatalf("no go.mod above the test's folder: %v", err)
	return ""
}
