package report

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"leadmark/calib"
	"leadmark/calib/input"
	"leadmark/calib/store"
	"leadmark/cmd/leadmark/report/annotate"
	"leadmark/cmd/leadmark/report/page"
)

// The files that Write makes, beside the annotated frames in framesDir.
const (
	resultFile   = "result.json"
	readingsFile = "readings.csv"
	pageFile     = "report.html"
	framesDir    = "frames"
)

// Replace writes an annotated frame in one step. A file that is there and was not made by
// annotate.Frame or Write is left alone, and Replace returns ErrNotOurs. What killed programs left
// beside is left to store.Cleanup, and that its name lasts to store.Settle.
func Replace(path string, annotated []byte) error {
	return replaceOfMany(path, annotated, annotate.Sign)
}

// ErrNotOurs is returned where a file that Write would replace was not written by it.
var ErrNotOurs = errors.New("a file of that name is there already and was not written by leadmark")

// replace writes a file in one step, so that a reader sees the old one or the new one, never half.
// It refuses to replace a file that does not carry sign near its beginning.
func replace(path string, data []byte, sign string) error {
	return replaceBy(store.Way{}, path, sign, store.Text(data))
}

// replacePage is replace for a page, which is written as it is made: that of a long
// run is large.
func replacePage(path string, p page.Page) error {
	return replaceBy(store.Way{}, path, page.Sign, func(to io.Writer) error {
		w := bufio.NewWriterSize(to, 1<<16)
		return errors.Join(p.Write(w), w.Flush())
	})
}

// replaceOfMany is replace for one of many files: what killed programs left beside is left to
// store.Cleanup, and that their names last to store.Settle.
func replaceOfMany(path string, data []byte, sign string) error {
	return replaceBy(store.Way{Many: true}, path, sign, store.Text(data))
}

// replaceBy replaces a file of ours. Where the disk does not take it there is no report, but
// nothing was wrong with what was given.
func replaceBy(way store.Way, path, sign string, write func(io.Writer) error) error {
	if err := checkOurs(path, sign); err != nil {
		return err
	}
	if err := way.Replace(store.System(), path, write); err != nil {
		what, hint := input.Describe(err)
		return &input.NoResult{What: what, Hint: hint}
	}
	return nil
}

// checkOurs reports an error where path holds anything that does not carry sign in its first 4 kB.
// An empty file may be replaced.
func checkOurs(path, sign string) error {
	info, err := os.Lstat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("looking at %s: %w", path, err)
	}
	if !info.Mode().IsRegular() {
		return notOurs(path)
	}
	f, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("looking at %s: %w", path, err)
	}
	defer f.Close()
	head, err := io.ReadAll(io.LimitReader(f, 4096))
	if err != nil {
		return fmt.Errorf("looking at %s: %w", path, err)
	}
	if len(head) > 0 && !bytes.Contains(head, []byte(sign)) {
		return notOurs(path)
	}
	return nil
}

// checkNoLink reports an error where a folder of ours is a link: what is written there would go
// elsewhere.
func checkNoLink(path string) error {
	if info, err := os.Lstat(path); err == nil && info.Mode()&fs.ModeSymlink != 0 {
		return notOurs(path)
	}
	return nil
}

func notOurs(path string) error {
	return fmt.Errorf("%s: %w\nhint: choose another folder with --out, or move that file away", path, ErrNotOurs)
}

// pictureNames gives every frame the name of its annotated picture: the file's own without its
// ending, made safe for any file system, numbered where two would be the same.
func pictureNames(frames []calib.FrameResult) []string {
	names := make([]string, len(frames))
	taken := map[string]bool{}
	for i, f := range frames {
		base := filepath.Base(filepath.ToSlash(f.Name))
		stem := strings.Map(safeRune, strings.TrimSuffix(base, filepath.Ext(base)))
		stem = strings.Trim(stem, " .")
		if stem == "" {
			stem = "frame"
		}
		name := stem
		for k := 2; taken[strings.ToLower(name)]; k++ {
			name = stem + "-" + strconv.Itoa(k)
		}
		taken[strings.ToLower(name)] = true
		names[i] = name + ".svg"
	}
	return names
}

// safeRune keeps what every common file system allows in a name.
func safeRune(r rune) rune {
	if r < ' ' || r == 0x7F || strings.ContainsRune(`<>:"/\|?*%#`, r) {
		return '_'
	}
	return r
}
