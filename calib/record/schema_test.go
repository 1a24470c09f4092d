package record

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A file of every version of the format that was ever written lies in testdata/versions: all must
// be read for good. A later version is refused with what to do, whatever else stands in it.
func TestEveryVersionIsRead(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("testdata", "versions", "result-1.json"))
	if err != nil {
		t.Fatal(err)
	}
	if d, err := Decode(text); err != nil || d.Lag == nil || len(d.Frames) == 0 {
		t.Errorf("result-1.json: %+v, %v", d, err)
	}
	later := strings.Replace(string(text), `"leadmark/result/1"`, `"leadmark/result/2"`, 1)
	later = strings.Replace(later, `"rig": "`, `"rig": 3, "was": "`, 1)
	if _, err := Decode([]byte(later)); err == nil || !strings.Contains(err.Error(), "later version") ||
		!strings.Contains(err.Error(), "install") {
		t.Errorf("result-2.json: %v", err)
	}
}
