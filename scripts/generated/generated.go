// Package generated writes the files of the project that a program makes, or holds them against what
// it would write.
package generated

import (
	"bytes"
	"fmt"
	"os"
)

// Put writes a file where its text changes. With check it writes nothing and returns an error there,
// which names the command that writes the file.
func Put(path string, text []byte, check bool, command string) error {
	old, err := os.ReadFile(path)
	switch {
	case err == nil && bytes.Equal(old, text):
		return nil
	case check:
		return fmt.Errorf("%s is not what %s writes", path, command)
	}
	return os.WriteFile(path, text, 0o666)
}
