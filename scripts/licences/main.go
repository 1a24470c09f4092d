// Command licences writes what the program and its Debian package say of licences, from the licence
// files of every module that is linked in: cmd/leadmark/licences.txt and
// scripts/packaging/debian/copyright. Run it in the project's folder.
//
//	go run ./scripts/licences [-check]
package main

import (
	"flag"
	"fmt"
	"os"

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
	all, err := collect(root)
	if err != nil {
		return err
	}
	for path, text := range map[string][]byte{
		root + "/cmd/leadmark/licences.txt":          printed(all),
		root + "/scripts/packaging/debian/copyright": copyright(all),
	} {
		if err := generated.Put(path, text, check, "go run ./scripts/licences"); err != nil {
			return err
		}
	}
	return nil
}
