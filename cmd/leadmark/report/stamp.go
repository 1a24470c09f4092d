package report

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/page"
)

// stampSign begins the line of a page that says what it was made from.
const stampSign = `<meta name="leadmark-made-from" content="`

// stampOf tells reports apart: by the result, the pictures' content, and the program.
func stampOf(r calib.Result, result []byte, o Options) string {
	h := sha256.New()
	fmt.Fprintln(h, o.Version, o.Program, o.Picture != nil, len(r.Frames))
	h.Write(result)
	for _, f := range r.Frames {
		fmt.Fprintln(h, f.Name, f.Digest, f.Reading.Outline, f.Reading.Front)
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}

// upToDate says whether dir holds this very report already, whole, so that nothing need be drawn
// again.
func upToDate(dir, stamp string, result []byte, names []string, o Options) bool {
	have, err := os.ReadFile(filepath.Join(dir, resultFile))
	if err != nil || !bytes.Equal(have, result) {
		return false
	}
	written, err := os.Open(filepath.Join(dir, pageFile))
	if err != nil {
		return false
	}
	defer written.Close()
	head, err := io.ReadAll(io.LimitReader(written, 4096))
	if err != nil || !bytes.Contains(head, []byte(stampSign+stamp)) {
		return false
	}
	files := []string{readingsFile}
	for k := range page.CardPages(len(names), o.Picture != nil) {
		files = append(files, page.CardsFile(k))
	}
	if o.Picture != nil {
		for _, n := range names {
			files = append(files, filepath.Join(framesDir, n))
		}
	}
	for _, f := range files {
		if info, err := os.Stat(filepath.Join(dir, f)); err != nil || info.Size() == 0 {
			return false
		}
	}
	return true
}
