package frame

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"

	"leadmark/fit/note"
	"leadmark/vision/frame/integrity"
)

// CodeReplaced is why a frame is refused whose file no longer holds the bytes that it had when it
// was listed.
const CodeReplaced = "replaced"

// Error is what is wrong with the file, as a note has it: a refusal is an error too where a frame
// that was listed cannot be read any more.
func (r *Refusal) Error() string { return r.Note.String() }

// Read reads the frame's picture anew: the bytes returned are of the file that was listed, or there
// are none and the error is a *Refusal. buffer makes room for so many bytes; nil where fresh memory
// will do.
func (f Frame) Read(buffer func(n int) []byte) ([]byte, error) {
	file, _, bad := openPlain(f.Path)
	if !bad.None() {
		return nil, f.refused(bad)
	}
	defer file.Close()
	return f.Picture(file, buffer)
}

// Picture is Read of a file that is open already. The whole file goes through the check sum, of a
// RAW file only the picture is kept.
func (f Frame) Picture(file io.Reader, buffer func(n int) []byte) ([]byte, error) {
	if buffer == nil {
		buffer = func(n int) []byte { return make([]byte, n) }
	}
	at, n := f.PictureAt, f.PictureBytes
	if n == 0 {
		at, n = 0, f.Size
	}
	if f.Size > integrity.MaxBytes || at < 0 || n < 0 || at > f.Size || n > f.Size-at {
		return nil, f.refused(replaced())
	}
	data := buffer(int(n))
	sum, err := sumAround(file, at, data, f.Size-at-n)
	switch {
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF), err == nil && sum != f.Digest:
		return nil, f.refused(replaced())
	case err != nil:
		return nil, f.refused(unreadable(err))
	}
	return data, nil
}

// sumAround is the check sum of a file of which data is filled from a place on; rest bytes must
// follow, and are followed by one more where the file has grown.
func sumAround(file io.Reader, at int64, data []byte, rest int64) (string, error) {
	sum := sha256.New()
	if _, err := io.CopyN(sum, file, at); err != nil {
		return "", err
	}
	if _, err := io.ReadFull(file, data); err != nil {
		return "", err
	}
	sum.Write(data)
	if _, err := io.Copy(sum, io.LimitReader(file, rest+1)); err != nil {
		return "", err
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

func replaced() note.Note {
	return note.New(CodeReplaced)
}

func (f Frame) refused(bad note.Note) *Refusal {
	return &Refusal{Name: f.Name, Path: f.Path, Note: bad}
}

// Unchanged says whether a file is the one that it was, and was not written since, as far as the
// disk tells: times can be set by hand. What must be sure goes by the Digest.
func Unchanged(before, now fs.FileInfo) bool {
	return os.SameFile(before, now) && before.Size() == now.Size() &&
		before.ModTime().Equal(now.ModTime()) && changed(before).Equal(changed(now))
}
