package frame

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"fmt"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/bep/imagemeta"

	"leadmark/fit/note"
	"leadmark/testdata"
	"leadmark/vision/frame/integrity"
)

// rawSample is a camera's RAW file, its picture taken out or cut off.
type rawSample struct {
	name string
	data []byte
	want map[string]string // what exiftool 12.57 reads
}

// rawSamples are those of testdata/raw (see the README there) and of the module imagemeta, as
// exiftool.csv lists them.
func rawSamples(t testing.TB) []rawSample {
	t.Helper()
	table, err := os.ReadFile(filepath.Join("testdata", "raw", "exiftool.csv"))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	module := ""
	var all []rawSample
	for _, row := range rows[1:] {
		s := rawSample{name: filepath.Base(row[0]), want: map[string]string{}}
		for i, key := range rows[0] {
			s.want[key] = row[i]
		}
		path := filepath.Join("testdata", "raw", row[0])
		if _, err := os.Stat(path); err != nil {
			if module == "" {
				module = filepath.Join(testdata.Module(t, "github.com/bep/imagemeta"), "testdata",
					"images")
			}
			path = filepath.Join(module, row[0])
		}
		if s.data, err = os.ReadFile(path); err != nil {
			t.Fatal(err)
		}
		all = append(all, s)
	}
	return all
}

// openSample is what the structure of a RAW file names.
func openSample(s rawSample) (string, integrity.RawFile, note.Note) {
	kind := integrity.RawKind(filepath.Ext(s.name), s.data)
	r, bad := integrity.OpenRaw(kind, s.data)
	return kind, r, bad
}

// withoutJPEG are samples that hold no JPEG at all.
func withoutJPEG() []string { return []string{"sample.dng", "sample.nef"} }

// A JPEG of ordinary size is put behind each sample, and the camera's own directory made to name
// it: it must be found there, with the metadata that exiftool reads and the orientation of the RAW
// file. Where exiftool is at hand it must hand out the same JPEG.
func TestRawSamples(t *testing.T) {
	kinds := map[string]bool{}
	files, jpegs := map[string][]byte{}, map[string][]byte{}
	for _, s := range rawSamples(t) {
		kind, r, bad := openSample(s)
		if !bad.None() || kind == "" {
			t.Errorf("%s: kind %q, %v", s.name, kind, bad)
			continue
		}
		if slices.Contains(withoutJPEG(), s.name) {
			wantRefusal(t, s.name, s.data, "no-preview")
			var f Frame
			f.Name = s.name
			completeAll(&f, r.Exif)
			compareSample(t, f, s.want)
			continue
		}
		jpg := sizedJPEG(t, 1200, 800)
		if kind == "RAF" || kind == "RW2" { // there the JPEG carries the metadata, or some of them
			jpg = withSegment(jpg, 0xE1, firstAPP1(t, s.name, s.data))
		}
		whole := transplanted(t, s, r, jpg)
		f := mustInspect(t, s.name, whole)
		if f.Raw != kind || f.Format != "jpeg" || f.Width != 1200 || f.Height != 800 ||
			!bytes.Equal(whole[f.PictureAt:f.PictureAt+f.PictureBytes], jpg) {
			t.Errorf("%s: %+v", s.name, f)
		}
		if s.name == "CanonRaw.cr3" && !f.ZoneKnown {
			t.Errorf("%s: the zone is lost", s.name)
		}
		f.ZoneKnown = false // exiftool.csv has the time without its zone
		compareSample(t, f, s.want)
		turned := mustInspect(t, s.name, turnedBy6(t, s.name, whole))
		if turned.Orientation != 6 || turned.Width != 800 || turned.Height != 1200 {
			t.Errorf("%s turned: %+v", s.name, turned)
		}
		files[s.name], jpegs[s.name] = whole, jpg
		kinds[kind] = true
		for _, n := range []int{len(whole) - 1, len(whole) - len(jpg)/2} {
			if _, bad := Inspect(s.name, whole[:n]); bad == nil || bad.Code != "truncated" {
				t.Errorf("%s cut to %d of %d bytes: %+v", s.name, n, len(whole), bad)
			}
		}
	}
	compareWithExiftool(t, files, jpegs)
	// ORF: TestORF
	for _, kind := range []string{"CR2", "CR3", "NEF", "ARW", "DNG", "RAF", "RW2", "PEF"} {
		if !kinds[kind] {
			t.Errorf("no sample of %s was looked at", kind)
		}
	}
}

func sizedJPEG(t testing.TB, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, solid(w, h), nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// transplanted puts a JPEG behind a sample and makes the field that names the largest one name it
// instead.
func transplanted(t *testing.T, s rawSample, r integrity.RawFile, jpg []byte) []byte {
	t.Helper()
	if strings.HasSuffix(s.name, ".cr3") {
		return transplanted3(s, r, jpg)
	}
	var old integrity.Piece
	for _, p := range r.Pieces {
		if p.Bytes > old.Bytes && p.Bytes < 4<<20 { // longer ones are the RAW data themselves
			old = p
		}
		// its first directory names the picture
		if old.Bytes > 0 && strings.HasSuffix(s.name, ".cr2") {
			break
		}
	}
	data := padded(s.data)
	at := len(data)
	var o binary.AppendByteOrder = binary.LittleEndian
	if s.data[0] != 'I' || strings.HasSuffix(s.name, ".raf") {
		o = binary.BigEndian
	}
	changes := [][2]int64{{old.Bytes, int64(len(jpg))}, {old.At, int64(at)}}
	for _, p := range r.Pieces { // what was cut off the sample
		if p != old && p.At+p.Bytes > int64(len(data)) {
			changes = append(changes, [2]int64{p.Bytes, 1})
		}
	}
	for _, change := range changes {
		from, to := o.AppendUint32(nil, uint32(change[0])), o.AppendUint32(nil, uint32(change[1]))
		if strings.HasSuffix(s.name, ".rw2") { // the JPEG is the value of its field
			head := []byte{0x2E, 0, 7, 0}
			field := o.AppendUint32(o.AppendUint32(slices.Clone(head), uint32(old.Bytes)),
				uint32(old.At))
			data = bytes.Replace(data, field, o.AppendUint32(o.AppendUint32(head, uint32(len(jpg))),
				uint32(at)), 1)
			break
		}
		one := o.AppendUint32(o.AppendUint16(nil, 4), 1) // a field of one LONG
		if field := append(slices.Clone(one), from...); bytes.Contains(data, field) {
			from, to = field, append(one, to...)
		}
		if !bytes.Contains(data, from) {
			t.Fatalf("%s: %d is not in the file", s.name, change[0])
		}
		data = bytes.Replace(data, from, to, 1)
	}
	return append(data, jpg...)
}

// transplanted3 does it in a CR3 file, whose tracks all begin at one place: the JPEG's is the
// first. The RAW data's are made short, as the sample holds none.
func transplanted3(s rawSample, r integrity.RawFile, jpg []byte) []byte {
	data := padded(s.data)
	o := binary.BigEndian
	for i, p := range r.Pieces {
		size := uint32(16)
		if i == 0 {
			size = uint32(len(jpg))
			from := append([]byte("co64\x00\x00\x00\x00\x00\x00\x00\x01"),
				o.AppendUint64(nil, uint64(p.At))...)
			data = bytes.Replace(data, from, o.AppendUint64(slices.Clone(from[:12]),
				uint64(len(data))), 1)
		}
		// one size for all, or a list
		for _, head := range []string{"stsz\x00\x00\x00\x00",
			"stsz\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x01"} {
			data = bytes.Replace(data, o.AppendUint32([]byte(head), uint32(p.Bytes)),
				o.AppendUint32([]byte(head), size), 1)
		}
	}
	return append(data, jpg...)
}

// padded fills a file up to 64 kB: exiftool takes no RAF file whose JPEG begins between 32 and 64
// kB.
func padded(data []byte) []byte {
	return append(slices.Clone(data), make([]byte, max(0, 1<<16-len(data)))...)
}

// turnedBy6 sets every orientation field to 6.
func turnedBy6(t *testing.T, name string, data []byte) []byte {
	t.Helper()
	little := []byte{0x12, 1, 3, 0, 1, 0, 0, 0, 1, 0}
	big := []byte{1, 0x12, 0, 3, 0, 0, 0, 1, 0, 1}
	out := bytes.ReplaceAll(data, little, []byte{0x12, 1, 3, 0, 1, 0, 0, 0, 6, 0})
	out = bytes.ReplaceAll(out, big, []byte{1, 0x12, 0, 3, 0, 0, 0, 1, 0, 6})
	if bytes.Equal(out, data) {
		t.Fatalf("%s has no orientation field", name)
	}
	return out
}

// compareWithExiftool asks exiftool for the JPEGs inside files; all at once, for it takes long to
// start.
func compareWithExiftool(t *testing.T, files, jpegs map[string][]byte) {
	t.Helper()
	t.Run("exiftool", func(t *testing.T) { exiftoolFinds(t, files, jpegs) })
}

func exiftoolFinds(t *testing.T, files, jpegs map[string][]byte) {
	t.Helper()
	tool := testdata.Program(t, "exiftool", "libimage-exiftool-perl", "-ver")
	dir := t.TempDir()
	for name, data := range files {
		put(t, filepath.Join(dir, name), data)
	}
	if out, err := exec.Command(tool, "-q", "-b", "-JpgFromRaw", "-PreviewImage", "-ThumbnailImage",
		"-w", "%d%f.%e.out", dir).CombinedOutput(); err != nil {
		t.Fatalf("exiftool: %v %s", err, out)
	}
	for name, jpg := range jpegs {
		if out, err := os.ReadFile(filepath.Join(dir, name+".out")); err != nil ||
			!bytes.Contains(out, jpg) {
			t.Errorf("%s: exiftool finds another JPEG (%v)", name, err)
		}
	}
}

// No open ORF sample is at hand: this one is built after exiftool's tag tables of Olympus' maker
// note, and exiftool reads it back.
func TestORF(t *testing.T) {
	jpg := sizedJPEG(t, 1600, 1200)
	data := orf(jpg)
	f := mustInspect(t, "P1010001.ORF", data)
	if f.Raw != "ORF" || f.Width != 1200 || f.Height != 1600 || f.Orientation != 6 ||
		f.Make != "OLYMPUS CORPORATION" || f.Exposure != 0.005 {
		t.Errorf("%+v", f)
	}
	if !bytes.Equal(data[f.PictureAt:f.PictureAt+f.PictureBytes], jpg) {
		t.Error("another part of the file")
	}
	compareWithExiftool(t, map[string][]byte{"P1010001.ORF": data},
		map[string][]byte{"P1010001.ORF": jpg})
	wantRefusal(t, "cut", data[:len(data)-1], "truncated")
}

// orf writes an ORF file whose maker note names a JPEG.
func orf(jpg []byte) []byte {
	o := binary.LittleEndian
	note := append([]byte("OLYMPUS\x00II\x03\x00"), 1, 0) // one field: the settings
	note = append(o.AppendUint32(o.AppendUint16(o.AppendUint16(note, 0x2020), 13), 1), 30, 0, 0, 0,
		0, 0, 0, 0)
	note = append(note, 3, 0)
	// PreviewImageValid
	note = append(o.AppendUint32(o.AppendUint16(o.AppendUint16(note, 0x0100), 4), 1), 1, 0, 0, 0)
	for _, f := range [][2]uint32{{0x0101, 0}, {0x0102, uint32(len(jpg))}} {
		note = o.AppendUint32(o.AppendUint32(o.AppendUint16(o.AppendUint16(note, uint16(f[0])), 4),
			1), f[1])
	}
	note = append(note, 0, 0, 0, 0)
	top := []field{ascii(0x010F, "OLYMPUS CORPORATION"), ascii(0x0110, "E-M1"), short(o, 0x0112, 6)}
	sub := []field{rational(o, 0x829A, 1, 200), {0x927C, 7, uint32(len(note)), note}}
	data := exifBlock(o, top, sub)
	at := bytes.Index(data, []byte("OLYMPUS\x00II"))
	o.PutUint32(data[at+30+2+12+8:], uint32(len(data)-at)) // places count from the note's beginning
	copy(data, "IIRO")
	return append(data, jpg...)
}

// The picture is the largest JPEG, and a thumbnail is none.
func TestRawTakesTheLargestJPEG(t *testing.T) {
	jpg := sizedJPEG(t, 1200, 800)
	for name, c := range map[string]struct {
		jpegs [][]byte
		width int
		code  string
	}{
		"small then large": {[][]byte{sizedJPEG(t, 160, 120), jpg}, 1200, ""},
		"large then small": {[][]byte{jpg, sizedJPEG(t, 1024, 768)}, 1200, ""},
		"thumbnails": {[][]byte{sizedJPEG(t, 160, 120), sizedJPEG(t, 640, 480)}, 0,
			"no-preview"},
		"broken inside": {[][]byte{append(slices.Clone(jpg[:len(jpg)/2]), 0xFF, 0xD9)}, 0,
			"damaged"},
		"none": {[][]byte{[]byte("no picture at all")}, 0, "no-preview"},
	} {
		data := chained(c.jpegs)
		if c.code != "" {
			if _, bad := Inspect("a.nef", data); bad == nil || bad.Code != c.code ||
				!strings.Contains(bad.String(), "NEF") {
				t.Errorf("%s: %+v", name, bad)
			}
			continue
		}
		if f := mustInspect(t, "a.NEF", data); f.Width != c.width {
			t.Errorf("%s: %+v", name, f)
		}
	}
	ring := chained([][]byte{jpg})
	binary.LittleEndian.PutUint32(ring[8+2+24:], 8) // the chain leads back
	mustInspect(t, "ring.nef", ring)
}

// chained writes a TIFF structure with one directory a JPEG.
func chained(jpegs [][]byte) []byte {
	o := binary.LittleEndian
	data := o.AppendUint32([]byte("II*\x00"), 8)
	at := 8 + 30*len(jpegs)
	for i, jpg := range jpegs {
		data = o.AppendUint16(data, 2)
		for _, f := range [][2]int{{0x0201, at}, {0x0202, len(jpg)}} {
			data = o.AppendUint32(o.AppendUint32(o.AppendUint16(o.AppendUint16(data, uint16(f[0])),
				4), 1), uint32(f[1]))
		}
		next := uint32(8 + 30*(i+1))
		if i+1 == len(jpegs) {
			next = 0
		}
		data = o.AppendUint32(data, next)
		at += len(jpg)
	}
	return append(data, bytes.Join(jpegs, nil)...)
}

// What is not read is named.
func TestKindsNotReadAreNamed(t *testing.T) {
	for name, c := range map[string][2]string{
		"a.jpg":  {"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic", "HEIF"},
		"b.jpg":  {"\x00\x00\x00\x18ftypavif\x00\x00\x00\x00mif1", "AVIF"},
		"c.jpg":  {"\x00\x00\x00\x18ftypqt  \x00\x00\x00\x00", "film"},
		"d.jpg":  {"II\x1a\x00\x00\x00HEAPCCDR", "picture"},
		"e.jpg":  {"FOVb", "X3F"},
		"f.webp": {"RIFF\x00\x00\x00\x00WEBP", "WebP"},
	} {
		if _, bad := Inspect(name, []byte(c[0])); bad == nil || !strings.Contains(bad.String(), c[1]) {
			t.Errorf("%s: %+v", name, bad)
		}
	}
	for _, name := range []string{"a.HIF", "a.heic", "a.x3f", "a.GIF", "a.srw"} {
		bad := listOne(name, "/nowhere/"+name).bad
		if bad == nil || bad.Code != "unsupported-format" {
			t.Errorf("%s: %+v", name, bad)
		}
	}
}

// imagemeta, a reader of other people's, must find the same in the samples that come with it.
func TestRawSamplesAgainstImagemeta(t *testing.T) {
	formats := map[string]imagemeta.ImageFormat{".cr2": imagemeta.CR2, ".nef": imagemeta.NEF,
		".arw": imagemeta.ARW, ".dng": imagemeta.DNG, ".pef": imagemeta.PEF}
	n := 0
	for _, s := range rawSamples(t) {
		format, known := formats[filepath.Ext(s.name)]
		if !known {
			continue
		}
		seen := map[string]any{}
		_, err := imagemeta.Decode(imagemeta.Options{R: bytes.NewReader(s.data),
			ImageFormat: format, Sources: imagemeta.EXIF,
			HandleTag: func(tag imagemeta.TagInfo) error {
				if tag.Namespace == "IFD0" || strings.HasPrefix(tag.Namespace, "IFD0/Exif") {
					seen[tag.Tag] = tag.Value
				}
				return nil
			}})
		if err != nil {
			t.Errorf("%s: %v", s.name, err)
		}
		_, r, _ := openSample(s)
		var f Frame
		completeAll(&f, r.Exif)
		n++
		got := map[string]any{"Make": f.Make, "Model": f.Model,
			"DateTimeOriginal": f.Taken.Format("2006:01:02 15:04:05"), "ISO": f.ISO}
		for tag, v := range got {
			if w, ok := seen[tag]; ok &&
				strings.TrimSpace(fmt.Sprint(w)) != strings.TrimSpace(fmt.Sprint(v)) {
				t.Errorf("%s: %s %v, imagemeta has %v", s.name, tag, v, w)
			}
		}
		if seen["Make"] == nil || seen["DateTimeOriginal"] == nil {
			t.Errorf("%s: imagemeta told of %v only", s.name, seen)
		}
	}
	if n < 7 {
		t.Errorf("only %d samples", n)
	}
}

func completeAll(f *Frame, blocks [][]byte) {
	for _, b := range blocks {
		complete(f, b)
	}
}
