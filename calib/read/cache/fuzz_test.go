package cache

import (
	"bytes"
	"crypto/sha256"
	"encoding/gob"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"leadmark/vision/ruler"
)

// FuzzSeen: whatever lies in the folder of what was seen, with its check sum right, is read or not
// believed, never more.
func FuzzSeen(f *testing.F) {
	dir := f.TempDir()
	s, err := openFolder(dir)
	if err != nil {
		f.Fatal(err)
	}
	for _, v := range []any{ruler.Sighting{Width: 3, Rows: []ruler.Row{{Pitch: 2}}},
		index{Program: "x", OfRun: map[string][]byte{"a": []byte("x")}}, ruler.Clips{}} {
		var b bytes.Buffer
		if err := gob.NewEncoder(&b).Encode(v); err != nil {
			f.Fatal(err)
		}
		f.Add(b.Bytes(), true)
	}
	var b bytes.Buffer
	if err := gob.NewEncoder(&b).Encode(struct{ Lying []ruler.Row }{[]ruler.Row{{Pitch: 2}}}); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes(), true)
	f.Add([]byte("torn"), false)
	f.Fuzz(func(t *testing.T, data []byte, right bool) {
		sum := sha256.Sum256(data)
		if !right {
			sum[0] ^= 1
		}
		if err := os.WriteFile(filepath.Join(dir, "x"+entryEnd), append(sum[:], data...), 0o666); err != nil {
			t.Fatal(err)
		}
		for _, v := range []any{&ruler.Sighting{}, &index{}, &ruler.Clips{}} {
			if err := s.load("x", v); err == nil && !right {
				t.Errorf("an entry with a wrong check sum was believed: %v", reflect.TypeOf(v))
			}
		}
		var ofRun struct {
			Hint  ruler.Hint
			Lying []ruler.Row
			Like  *ruler.Like
		}
		(&Cache{index: index{OfRun: map[string][]byte{"a": data}}}).OfRun("a", &ofRun)
	})
}
