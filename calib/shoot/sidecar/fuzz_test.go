package sidecar

import (
	"bytes"
	"strconv"
	"testing"
)

// FuzzSidecar: a rating that was put into an XMP sidecar is found there, and nothing else is
// changed.
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
