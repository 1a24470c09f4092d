package cache

import (
	"bytes"
	"encoding/gob"
	"errors"
	"os"
)

// OfRun fetches into v what was kept of the run as a whole when these things were looked for; false
// where there is nothing, and for no memory.
func (m *Cache) OfRun(wanted string, v any) bool {
	if m == nil {
		return false
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	data, ok := m.index.OfRun[wanted]
	return ok && gob.NewDecoder(bytes.NewReader(data)).Decode(v) == nil
}

// KeepOfRun remembers v of the run as a whole.
func (m *Cache) KeepOfRun(wanted string, v any) {
	if m == nil {
		return
	}
	var b bytes.Buffer
	if err := gob.NewEncoder(&b).Encode(v); err != nil {
		return // it is found anew
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.index.OfRun[wanted] = b.Bytes()
}

// Close writes down what the run as a whole has shown and forgets entries that nobody asked for;
// what was kept for this session alone goes, and so does the folder of a run of which nothing was
// seen.
func (m *Cache) Close() {
	if m == nil {
		return
	}
	seen := len(m.used) > 0
	if seen {
		m.Flush()
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.spare != nil {
		_ = m.spare.close()
		if err := os.RemoveAll(m.spare.dir); err != nil {
			m.dir = m.spare.dir
			m.tell(notForgot, err)
		}
	}
	if m.kept != nil {
		_ = m.kept.close()
		if !seen {
			_ = os.Remove(m.dir) // where it holds something it stays
		}
	}
}

// Flush is Close for a memory that stays in use.
func (m *Cache) Flush() {
	if m == nil || m.kept == nil {
		return
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := m.kept.save(indexEntry, m.index); err != nil {
		m.tell(notKept, err)
	}
	if err := m.kept.forget(unused, func(name string) bool { return name == indexEntry || m.used[name] }); err != nil {
		m.tell(notForgot, err)
	}
}

// load fetches an entry from where it was kept.
func (m *Cache) load(name string, v any) error {
	err := errors.New("there is no folder for it")
	if m.kept != nil {
		if err = m.kept.load(name, v); err == nil {
			return nil
		}
	}
	m.mu.Lock()
	spare := m.spare
	m.mu.Unlock()
	if spare != nil {
		return spare.load(name, v)
	}
	return err
}

// save keeps an entry beside the run or, where that cannot be, for this session; false where that
// cannot be either.
func (m *Cache) save(name string, v any) bool {
	if m.kept != nil {
		err := m.kept.save(name, v)
		if err == nil {
			return true
		}
		m.mu.Lock()
		m.tell(notKept, err)
		m.mu.Unlock()
	}
	spare := m.openSpare()
	return spare != nil && spare.save(name, v) == nil
}

// openSpare makes the folder of this session, once; nil where there can be none.
func (m *Cache) openSpare() *folder {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.spare != nil {
		return m.spare
	}
	dir, err := os.MkdirTemp("", "leadmark-")
	if err != nil {
		return nil
	}
	if m.spare, err = openFolder(dir); err != nil {
		_ = os.Remove(dir)
	}
	return m.spare
}
