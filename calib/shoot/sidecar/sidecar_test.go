package sidecar

import (
	"encoding/xml"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/calib/input"
	"leadmark/testdata"
)

const kept = `<?xml version="1.0"?><x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" dc:format="image/jpeg"></rdf:Description></rdf:RDF></x:xmpmeta>`

// exif is what exiftool reads.
func exif(t *testing.T, path, tag string) string {
	t.Helper()
	tool := testdata.Program(t, "exiftool", "libimage-exiftool-perl", "-ver")
	out, err := exec.Command(tool, "-s3", tag, path).CombinedOutput()
	if err != nil {
		t.Errorf("exiftool: %v %s", err, out)
	}
	return strings.TrimSpace(string(out))
}

// A sidecar with other things in it keeps them; a person's rating is replaced with force alone, as
// attribute or element; what is no XMP stays as it is.
func TestSidecars(t *testing.T) {
	attr := strings.Replace(kept, `rdf:about=""`,
		`rdf:about="" xmlns:xap="http://ns.adobe.com/xap/1.0/" xap:Rating='2'`, 1)
	elem := strings.Replace(kept, `"image/jpeg">`,
		`"image/jpeg"><a:Rating xmlns:a="http://ns.adobe.com/xap/1.0/">3</a:Rating>`, 1)
	for _, c := range []struct {
		name, text string
		rated      bool
	}{{"new", "", false}, {"other things", kept, false}, {"attribute", attr, true},
		{"element", elem, true}} {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "IMG_1.xmp")
			if c.text != "" {
				if err := os.WriteFile(path, []byte(c.text), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			err := WriteRating(t.Context(), path, 4, false)
			if errors.Is(err, ErrRated) != c.rated || err != nil && !c.rated {
				t.Fatalf("without force: %v", err)
			}
			if now, _ := os.ReadFile(path); c.rated && string(now) != c.text {
				t.Error("a person's rating was touched")
			}
			if err := WriteRating(t.Context(), path, 4, true); err != nil {
				t.Fatal(err)
			}
			t.Run("exiftool", func(t *testing.T) {
				if got := exif(t, path, "-XMP-xmp:Rating"); got != "4" {
					t.Errorf("exiftool reads rating %q", got)
				}
				if got := exif(t, path, "-XMP-dc:Format"); c.text != "" && got != "image/jpeg" {
					t.Errorf("what else was there is now %q", got)
				}
			})
			if err := WriteRating(t.Context(), path, 4, false); err != nil {
				t.Errorf("the same again: %v", err)
			}
			text, _ := os.ReadFile(path)
			if wrong := xmpFaults(text); len(wrong) > 0 {
				t.Errorf("%s\n%s", strings.Join(wrong, "\n"), text)
			}
		})
	}
	for _, text := range []string{"not xml <", "<a></a>", ""} {
		path := filepath.Join(t.TempDir(), "IMG_2.xmp")
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		var wrong *input.Error
		if err := WriteRating(t.Context(), path, 4, true); !errors.As(err, &wrong) {
			t.Errorf("%q: %v", text, err)
		}
		if now, _ := os.ReadFile(path); string(now) != text {
			t.Errorf("%q was changed to %q", text, now)
		}
	}
	var wrong *input.Error
	if err := WriteRating(t.Context(), filepath.Join(t.TempDir(), "no", "IMG.xmp"), 1,
		false); !errors.As(err, &wrong) {
		t.Errorf("a folder that is not there: %v", err)
	}
}

// xmpFaults holds a sidecar to the rules of ISO 16684-1 and its schema in ISO 16684-2 as far as
// they touch what is written here (from memory: neither is free): well-formed XML; at most one
// x:xmpmeta, one rdf:RDF in it; only rdf:Description with rdf:about="" in that; no property without
// a namespace, none twice; xmp:Rating a closed choice of -1 to 5.
func xmpFaults(text []byte) (wrong []string) {
	type seen struct{ space, local string }
	var stack []xml.Name
	properties := map[seen]int{}
	roots, ratings := 0, 0
	property := func(n xml.Name, value string) {
		if n.Space == "" {
			wrong = append(wrong, "a property without namespace: "+n.Local)
		}
		if properties[seen{n.Space, n.Local}]++; properties[seen{n.Space, n.Local}] > 1 {
			wrong = append(wrong, "a property twice: "+n.Local)
		}
		if n.Space == nsXMP && n.Local == "Rating" {
			ratings++
			if !strings.Contains(" -1 0 1 2 3 4 5 ", " "+value+" ") {
				wrong = append(wrong, "a rating of "+value)
			}
		}
	}
	d := xml.NewDecoder(strings.NewReader(string(text)))
	chars := ""
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return append(wrong, err.Error())
		}
		switch e := token.(type) {
		case xml.StartElement:
			chars = ""
			switch depth := len(stack); {
			case e.Name == xml.Name{Space: nsRDF, Local: "RDF"}:
				roots++
			case e.Name == xml.Name{Space: nsRDF, Local: "Description"} && depth > 0 &&
				stack[depth-1].Local == "RDF":
				about := false
				for _, a := range e.Attr {
					switch {
					case a.Name.Space == nsRDF && a.Name.Local == "about":
						about = a.Value == ""
					case a.Name.Space != "xmlns" && a.Name.Local != "xmlns":
						property(a.Name, a.Value)
					}
				}
				if !about {
					wrong = append(wrong, "a description that is not about the picture")
				}
			}
			stack = append(stack, e.Name)
		case xml.CharData:
			chars += string(e)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
			if n := len(stack); n > 0 && stack[n-1] == (xml.Name{Space: nsRDF,
				Local: "Description"}) {
				property(e.Name, chars)
			}
		}
	}
	if roots != 1 || ratings != 1 {
		wrong = append(wrong, "not one rdf:RDF with one rating")
	}
	return wrong
}

// The rules catch what they are for.
func TestXMPRulesCatch(t *testing.T) {
	good := string(newSidecar(3))
	if wrong := xmpFaults([]byte(good)); len(wrong) > 0 {
		t.Fatal(wrong)
	}
	for _, c := range [][2]string{{`="3"/>`, `="7"/>`}, {` rdf:about=""`, ""}, {"xmp:Rating", "Rating"},
		{"</rdf:RDF>", ""}, {`xmp:Rating="3"/>`, `xmp:Rating="3"><xmp:Rating>3</xmp:Rating></rdf:Description>`}} {
		if wrong := xmpFaults([]byte(strings.Replace(good, c[0], c[1], 1))); len(wrong) == 0 {
			t.Errorf("%q for %q was not caught", c[1], c[0])
		}
	}
}
