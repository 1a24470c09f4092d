// Command schemas writes the JSON Schemas of the program's documents to docs/schemas, made from the
// Go types that write them. Run it in the project's folder.
//
//	go run ./scripts/schemas [-check]
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"leadmark/calib/schemas"
	"leadmark/scripts/generated"
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
		if err := generated.Put(filepath.Join(dir, schemas.FileName(key)), append(text, '\n'), check,
			"go run ./scripts/schemas"); err != nil {
			return err
		}
	}
	return nil
}
