// Command schemas writes the JSON Schemas of the program's documents to docs/schemas, made from the
// Go types that write them. Run it in the project's folder.
//
//	go run ./scripts/schemas [-check]
package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"leadmark/calib/schemas"
)

func main() {
	check := flag.Bool("check", false, "write nothing; fail where a file would change")
	flag.Parse()
	if err := run(".", *check); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func run(root string, check bool) error {
	all, err := schemas.All()
	if err != nil {
		return err
	}
	dir := filepath.Join(root, "docs", "schemas")
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	files, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	if len(files) > len(all) {
		return fmt.Errorf("%s holds %d files, but there are %d documents", dir, len(files), len(all))
	}
	for key, s := range all {
		text, err := json.MarshalIndent(s, "", "  ")
		if err != nil {
			return err
		}
		if err := put(filepath.Join(dir, schemas.FileName(key)), append(text, '\n'), check); err != nil {
			return err
		}
	}
	return nil
}

func put(path string, text []byte, check bool) error {
	old, err := os.ReadFile(path)
	switch {
	case err == nil && bytes.Equal(old, text):
		return nil
	case check:
		return fmt.Errorf("%s is not what go run ./scripts/schemas writes", path)
	}
	return os.WriteFile(path, text, 0o666)
}
