package sidecar

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"

	"leadmark/calib/input"
	"leadmark/calib/store"
)

// Namespaces of XMP (ISO 16684-1).
const (
	nsXMP = "http://ns.adobe.com/xap/1.0/"
	nsRDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
)

// Name is the name of a picture's sidecar: the same with the ending xmp (common practice, no
// source).
func Name(picture string) string {
	return strings.TrimSuffix(picture, filepath.Ext(picture)) + ".xmp"
}

// ErrRated is returned where a sidecar already has a rating and none may be replaced.
var ErrRated = errors.New("a rating is there already")

// WriteRating writes a rating from 0 to 5 to a picture's sidecar as xmp:Rating. Whatever else
// stands in a sidecar stays, byte for byte. A rating that is there is replaced with force only;
// ErrRated without. What is no XMP is an *input.Error and stays as it is. What killed programs left
// in the folder is left to store.Cleanup, and that its name lasts to store.Settle.
func WriteRating(ctx context.Context, path string, rating int, force bool) (err error) {
	unlock, err := store.Lock(ctx, filepath.Dir(path))
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, unlock()) }()
	old, err := input.ReadBounded(path, 16<<20)
	var text []byte
	switch {
	case errors.Is(err, fs.ErrNotExist):
		text = newSidecar(rating)
	case err != nil:
		return err
	default:
		if text, err = rerated(path, old, rating, force); err != nil {
			return err
		}
	}
	if bytes.Equal(text, old) {
		return nil
	}
	return store.Way{Many: true}.Replace(store.System(), path, store.Text(text))
}

func newSidecar(rating int) []byte {
	return fmt.Appendf(nil, `<?xpacket begin="%s" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
 <rdf:RDF xmlns:rdf="%s">
  <rdf:Description rdf:about="" xmlns:xmp="%s" xmp:Rating="%d"/>
 </rdf:RDF>
</x:xmpmeta>
<?xpacket end="w"?>
`, "\ufeff", nsRDF, nsXMP, rating)
}

// spot is where a sidecar's rating stands, or where one can go.
type spot struct {
	from, to int // of the old value; from == to where there is none
	insert   int // behind the name of the first rdf:Description
	found    bool
}

// rerated is a sidecar's text with the rating put in.
func rerated(path string, old []byte, rating int, force bool) ([]byte, error) {
	s, err := findRating(old)
	if err != nil {
		return nil, &input.Error{File: path, What: "is no XMP that can be understood, and stays as it is",
			Err: err, Hint: "move it away, or rate that frame by hand"}
	}
	value := strconv.Itoa(rating)
	switch {
	case s.found && string(old[s.from:s.to]) == value:
		return old, nil
	case s.found && !force:
		return nil, fmt.Errorf("%s: %w (%s)\nhint: --force replaces it", path, ErrRated,
			old[s.from:s.to])
	case s.found:
		return bytes.Join([][]byte{old[:s.from], []byte(value), old[s.to:]}, nil), nil
	}
	// A prefix of our own clashes with none.
	put := fmt.Sprintf(` xmlns:xmprated="%s" xmprated:Rating="%s"`, nsXMP, value)
	return bytes.Join([][]byte{old[:s.insert], []byte(put), old[s.insert:]}, nil), nil
}

// findRating walks the XML: the rating is an attribute of an rdf:Description, or an element in one.
func findRating(text []byte) (spot, error) {
	var s spot
	d := xml.NewDecoder(bytes.NewReader(text))
	for {
		start := int(d.InputOffset())
		t, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return s, err
		}
		e, ok := t.(xml.StartElement)
		if !ok {
			continue
		}
		end := int(d.InputOffset())
		switch {
		case e.Name.Space == nsXMP && e.Name.Local == "Rating":
			if n := bytes.IndexByte(text[end:], '<'); n >= 0 && !s.found {
				s.from, s.to, s.found = end, end+n, true
			}
		case e.Name.Space == nsRDF && e.Name.Local == "Description":
			if s.insert == 0 {
				s.insert = start + nameEnd(text[start:end])
			}
			for _, a := range e.Attr {
				if a.Name.Space == nsXMP && a.Name.Local == "Rating" && !s.found {
					s.attribute(text, start, end)
				}
			}
		}
	}
	if s.insert == 0 {
		return s, errors.New("it has no rdf:Description")
	}
	return s, nil
}

// nameEnd is where the name of an element's tag ends.
func nameEnd(tag []byte) int {
	i := bytes.IndexByte(tag, '<') + 1
	for i < len(tag) && !bytes.ContainsRune([]byte(" \t\r\n/>"), rune(tag[i])) {
		i++
	}
	return i
}

// attribute finds the value of the attribute Rating inside a tag.
func (s *spot) attribute(text []byte, start, end int) {
	tag := text[start:end]
	i := bytes.Index(tag, []byte(":Rating"))
	if i < 0 {
		return
	}
	rest := tag[i+len(":Rating"):]
	q := bytes.IndexAny(rest, `"'`)
	if q < 0 {
		return
	}
	n := bytes.IndexByte(rest[q+1:], rest[q])
	if n < 0 {
		return
	}
	s.from = start + i + len(":Rating") + q + 1
	s.to, s.found = s.from+n, true
}
