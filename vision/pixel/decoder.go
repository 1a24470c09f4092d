package pixel

import (
	"math/bits"
	"runtime"
	"slices"
	"sync"

	"leadmark/vision/frame"
)

// Decoder decodes frames by a library, and keeps what their files and pixels were held in for the
// next: fresh memory for each costs as much as reading it. It may be used by several goroutines.
type Decoder struct {
	Library Library
	mu      sync.Mutex
	spare   [][]byte
}

// bytes returns a slice of n bytes, its content left over: the smallest kept that is not twice as
// long, or a new one, up to an eighth longer than asked for, so that pictures of about one size
// share them.
func (m *Decoder) bytes(n int) []byte {
	m.mu.Lock()
	defer m.mu.Unlock()
	best := -1
	for i, b := range m.spare {
		if cap(b) >= n && cap(b) <= 2*n && (best < 0 || cap(b) < cap(m.spare[best])) {
			best = i
		}
	}
	if best >= 0 {
		b := m.spare[best]
		m.spare = slices.Delete(m.spare, best, best+1)
		return b[:n]
	}
	step := max(1, 1<<max(0, bits.Len(uint(n))-spareBits))
	return make([]byte, n, (n+step-1)/step*step)
}

// Free takes a slice back that nobody uses any more, and lets go of the one that has waited longest
// where there are enough.
func (m *Decoder) Free(b []byte) {
	if cap(b) == 0 {
		return
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if len(m.spare) >= sparePerCore*runtime.GOMAXPROCS(0) {
		m.spare = slices.Delete(m.spare, 0, 1)
	}
	m.spare = append(m.spare, b)
}

// file reads the picture out of a frame's file. An error is a *frame.Refusal: what lies there is
// not what was listed.
func (m *Decoder) file(f frame.Frame) ([]byte, error) { return f.Read(m.bytes) }
