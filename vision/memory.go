package vision

import (
	"fmt"
	"io"
	"os"
	"sync"

	"leadmark/frame"
)

// memory is what one picture's file and pixels were held in, kept for the next: fresh memory for each costs as much as
// reading it. It may be used by several goroutines.
type memory struct{ pool sync.Pool }

// bytes returns a slice of n bytes, its content left over.
func (m *memory) bytes(n int) []byte {
	if p, ok := m.pool.Get().(*[]byte); ok && cap(*p) >= n {
		return (*p)[:n]
	}
	return make([]byte, n)
}

// free takes a slice back that nobody uses any more.
func (m *memory) free(b []byte) { m.pool.Put(&b) }

// file reads the part of a frame's file that holds the picture.
func (m *memory) file(f frame.Frame) ([]byte, error) {
	file, err := os.Open(f.Path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() || info.Size() > frame.MaxBytes || f.PictureBytes > frame.MaxBytes {
		return nil, fmt.Errorf("it is not an ordinary file of at most %d MB", frame.MaxBytes>>20)
	}
	picture := f.Picture(file, info.Size())
	data := m.bytes(int(picture.Size()))
	if _, err := io.ReadFull(picture, data); err != nil {
		return nil, fmt.Errorf("it changed while it was read: %w", err)
	}
	return data, nil
}
