package vision

import (
	"fmt"
	"io"
	"math/bits"
	"os"
	"slices"
	"sync"

	"leadmark/frame"
)

// memory is what pictures' files and pixels were held in, kept for the next: fresh memory for each costs as much as reading it. It may be
// used by several goroutines.
type memory struct {
	mu    sync.Mutex
	spare [][]byte
}

// mostSpare bounds how many slices are kept: a file and its pixels for each of many cores.
const mostSpare = 64

// bytes returns a slice of n bytes, its content left over. Slices are up to an eighth longer than asked for, so that files of about one size
// share them.
func (m *memory) bytes(n int) []byte {
	step := max(1, 1<<max(0, bits.Len(uint(n))-4))
	size := (n + step - 1) / step * step
	m.mu.Lock()
	defer m.mu.Unlock()
	if i := slices.IndexFunc(m.spare, func(b []byte) bool { return cap(b) == size }); i >= 0 {
		b := m.spare[i]
		m.spare = slices.Delete(m.spare, i, i+1)
		return b[:n]
	}
	return make([]byte, n, size)
}

// free takes a slice back that nobody uses any more.
func (m *memory) free(b []byte) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if cap(b) > 0 && len(m.spare) < mostSpare {
		m.spare = append(m.spare, b)
	}
}

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
