package runfile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/calib/input"
)

// A file of every version of each format that was ever written lies in testdata/versions: all must
// be read for good. A later version is refused with what to do, whatever else stands in it.
func TestEveryVersionOfCorrectionsIsRead(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("testdata", "versions", "corrections-1.toml"))
	if err != nil {
		t.Fatal(err)
	}
	c, err := ParseCorrections("corrections.toml", text)
	if err != nil || c.Of("IMG_0004.JPG").LeftOut == "" || c.Of("IMG_0007.JPG").Front == nil || c.Trip == nil {
		t.Errorf("corrections-1.toml: %+v, %v", c, err)
	}
	_, err = ParseCorrections("corrections.toml", []byte("schema = \"leadmark/corrections/2\"\nnew_key = 1\n"))
	if what, hint := input.Describe(err); !strings.Contains(what, "later version") ||
		!strings.Contains(hint, "install the version") {
		t.Errorf("corrections of version 2: %q %q", what, hint)
	}
}
