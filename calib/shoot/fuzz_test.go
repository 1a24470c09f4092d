package shoot

import (
	"bytes"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// FuzzShootFile: shoot.toml and the result.json that it names.
func FuzzShootFile(f *testing.F) {
	const head = "rig = \"greenhouse\"\nsubject = \"bee.toml\"\ntravel = \"right\"\n"
	result := `{"schema": "leadmark/result/1", "trip_line_px": [[10, 0], [10, 400]], "frames": [{"px_per_mm": 9.7}]}`
	f.Add([]byte(head+"px_per_mm = 9.7\n[trip]\nline_px = [[10, 0], [10, 400]]\n"), []byte(""))
	f.Add([]byte(head+"scale_from = \"result.json\"\n"), []byte(result))
	f.Add([]byte(head+"scale_from = \"result.json\"\nexit_px = [1e308, nan]\n"), []byte(`{"schema": "leadmark/result/2"}`))
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, text, result []byte) {
		if err := os.WriteFile(filepath.Join(dir, "result.json"), result, 0o666); err != nil {
			t.Fatal(err)
		}
		_ = IsDocument(result)
		s, err := Parse(dir, text)
		if err == nil && (!(s.Scale > 0) || s.TripLine[0] == s.TripLine[1] || s.Travel == [2]float64{}) {
			t.Errorf("accepted %+v", s)
		}
	})
}

// FuzzSidecar: a rating that was put into an XMP sidecar is found there, and nothing else is changed.
func FuzzSidecar(f *testing.F) {
	f.Add(newSidecar(3), uint8(4))
	f.Add([]byte(`<x><rdf:RDF xmlns:rdf="`+nsRDF+`"><rdf:Description xmlns:xmp="`+nsXMP+`"><xmp:Rating>2</xmp:Rating></rdf:Description></rdf:RDF></x>`), uint8(5))
	f.Add([]byte(`<rdf:Description xmlns:rdf="`+nsRDF+`" xmlns:a='`+nsXMP+`' a:Rating='' b:Rating="7"/>`), uint8(1))
	f.Add([]byte(`<!DOCTYPE a [<!ENTITY b "bbbb">]><a>&b;</a>`), uint8(1))
	f.Fuzz(func(t *testing.T, old []byte, rating uint8) {
		n := int(rating % 6)
		text, err := rerated("x.xmp", old, n, true)
		if err != nil {
			return
		}
		s, err := findRating(text)
		if err != nil || !s.found || string(text[s.from:s.to]) != strconv.Itoa(n) {
			t.Fatalf("%+v %v\n%q\n%q", s, err, old, text)
		}
		if again, err := rerated("x.xmp", text, n, false); err != nil || !bytes.Equal(again, text) {
			t.Errorf("rating again: %v", err)
		}
	})
}
