package vision

import (
	"fmt"
	"io"
	"os"
	"sync"
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

// file reads a file whole; at most most bytes.
func (m *memory) file(path string, most int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() || info.Size() > most {
		return nil, fmt.Errorf("it is not an ordinary file of at most %d MB", most>>20)
	}
	data := m.bytes(int(info.Size()))
	if _, err := io.ReadFull(f, data); err != nil {
		return nil, fmt.Errorf("it changed while it was read: %w", err)
	}
	return data, nil
}
