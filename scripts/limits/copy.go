package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// copyTree copies what git knows of, and what it does not ignore, to a folder.
func copyTree(from, to string) error {
	list, err := exec.Command("git", "-C", from, "ls-files", "-co", "--exclude-standard").Output()
	if err != nil {
		return fmt.Errorf("git ls-files: %w", err)
	}
	for _, name := range strings.Fields(string(list)) {
		data, err := os.ReadFile(filepath.Join(from, name))
		if os.IsNotExist(err) {
			continue // deleted, and not yet committed
		}
		if err != nil {
			return err
		}
		path := filepath.Join(to, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			return err
		}
		if err := os.WriteFile(path, data, 0o777); err != nil {
			return err
		}
	}
	return nil
}
