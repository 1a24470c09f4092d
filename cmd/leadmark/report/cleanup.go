package report

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"leadmark/calib/store"
	"leadmark/cmd/leadmark/report/annotate"
	"leadmark/cmd/leadmark/report/page"
)

// cleanUp takes away what an earlier run left in the folder: annotated frames and pages of cards
// that this run did not write. Only files that carry our own sign go; anybody else's stay.
func cleanUp(dir string, names []string, cards int, o Options) error {
	var stay []string
	if o.Picture != nil {
		stay = names
	}
	frames := filepath.Join(dir, framesDir)
	store.Cleanup(store.System(), frames)
	err := errors.Join(cleanUpFiles(frames, "*.svg", annotate.Sign, stay),
		cleanUpFiles(frames, "*.jpg", annotate.Sign, nil)) // as earlier versions wrote them
	var pages []string
	for k := range cards {
		pages = append(pages, page.CardsFile(k))
	}
	err = errors.Join(err, cleanUpFiles(dir, page.CardsFiles, page.Sign, pages), store.Settle(store.System(), dir))
	if o.Picture != nil {
		err = errors.Join(err, store.Settle(store.System(), frames))
	}
	return err
}

func cleanUpFiles(dir, pattern, sign string, stay []string) error {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("looking for what an earlier run left in %s: %w", dir, err)
	}
	kept := map[string]bool{}
	for _, name := range stay {
		kept[folded(name)] = true
	}
	for _, e := range entries {
		fits, _ := filepath.Match(pattern, e.Name())
		path := filepath.Join(dir, e.Name())
		if !fits || !e.Type().IsRegular() || kept[folded(e.Name())] || !carries(path, sign) {
			continue
		}
		if err := os.Remove(path); err != nil {
			return fmt.Errorf("taking away what an earlier run left: %w", err)
		}
	}
	return nil
}

// folded passes over the case of letters, as some file systems do.
func folded(name string) string { return strings.ToLower(strings.ToUpper(name)) }

// carries is true only of a file that is seen to be ours: an empty one may be anyone's.
func carries(path, sign string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Size() > 0 && checkOurs(path, sign) == nil
}
