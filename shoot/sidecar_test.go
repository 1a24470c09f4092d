package shoot

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/input"
)

const kept = `<?xml version="1.0"?><x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" dc:format="image/jpeg"></rdf:Description></rdf:RDF></x:xmpmeta>`

func exif(t *testing.T, path, tag string) (string, bool) {
	t.Helper()
	tool, err := exec.LookPath("exiftool")
	if err != nil {
		t.Log("exiftool is not installed: sidecars were not read back (apt-get install libimage-exiftool-perl)")
		return "", false
	}
	out, err := exec.Command(tool, "-s3", tag, path).CombinedOutput()
	if err != nil {
		t.Errorf("exiftool: %v %s", err, out)
	}
	return strings.TrimSpace(string(out)), true
}

// A sidecar with other things in it keeps them; a person's rating is replaced with force alone, as attribute or element; what is no
// XMP stays as it is.
func TestSidecars(t *testing.T) {
	attr := strings.Replace(kept, `rdf:about=""`, `rdf:about="" xmlns:xap="http://ns.adobe.com/xap/1.0/" xap:Rating='2'`, 1)
	elem := strings.Replace(kept, `"image/jpeg">`, `"image/jpeg"><a:Rating xmlns:a="http://ns.adobe.com/xap/1.0/">3</a:Rating>`, 1)
	for _, c := range []struct {
		name, text string
		rated      bool
	}{{"new", "", false}, {"other things", kept, false}, {"attribute", attr, true}, {"element", elem, true}} {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "IMG_1.xmp")
			if c.text != "" {
				if err := os.WriteFile(path, []byte(c.text), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			err := WriteRating(path, 4, false)
			if errors.Is(err, ErrRated) != c.rated || err != nil && !c.rated {
				t.Fatalf("without force: %v", err)
			}
			if now, _ := os.ReadFile(path); c.rated && string(now) != c.text {
				t.Error("a person's rating was touched")
			}
			if err := WriteRating(path, 4, true); err != nil {
				t.Fatal(err)
			}
			if got, ok := exif(t, path, "-XMP-xmp:Rating"); ok && got != "4" {
				t.Errorf("exiftool reads rating %q", got)
			}
			if got, ok := exif(t, path, "-XMP-dc:Format"); ok && c.text != "" && got != "image/jpeg" {
				t.Errorf("what else was there is now %q", got)
			}
			if err := WriteRating(path, 4, false); err != nil {
				t.Errorf("the same again: %v", err)
			}
		})
	}
	for _, text := range []string{"not xml <", "<a></a>", ""} {
		path := filepath.Join(t.TempDir(), "IMG_2.xmp")
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		var wrong *input.Error
		if err := WriteRating(path, 4, true); !errors.As(err, &wrong) {
			t.Errorf("%q: %v", text, err)
		}
		if now, _ := os.ReadFile(path); string(now) != text {
			t.Errorf("%q was changed to %q", text, now)
		}
	}
	var wrong *input.Error
	if err := WriteRating(filepath.Join(t.TempDir(), "no", "IMG.xmp"), 1, false); !errors.As(err, &wrong) {
		t.Errorf("a folder that is not there: %v", err)
	}
}
