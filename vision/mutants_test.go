package vision

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image/jpeg"
	"image/png"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"leadmark/scripts/claim"
	"leadmark/testdata"
	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
	"leadmark/vision/synth/photo"
	"leadmark/vision/synth/studies"
)

// What docs/files.md says of broken pictures.
const (
	mostReadFalsely = 0.005 // of all
	leastRead       = 0.05  // of all, rightly: what is broken mildly still shows what it shows
	mostMutantsMB   = 1024
)

// TestMutants reads pictures of which something was broken: bits turned over, the end cut off, the
// header of one before the data of another, another size in the header. None may end the process,
// meet a fault of the program or take more memory than is stated, and none whose end was cut off, or
// that is a PNG, may be read as something that the unbroken picture does not show. A JPEG has no
// check sums: of those broken otherwise, a few are read falsely (docs/files.md). A few by default;
// LEADMARK_MUTANTS asks for more, LEADMARK_SEED for other pictures and others of them
// (scripts/mutants: 10,000).
func TestMutants(t *testing.T) {
	n, seed := asked(t, "LEADMARK_MUTANTS", 60), asked(t, "LEADMARK_SEED", 8)
	path := filepath.Join(t.TempDir(), "x")
	looker := NewLooker(native.Library{})
	var study claim.Study
	all := mutated(t, uint64(seed))
	tally := mutants{count: map[string]int{}}
	originals := tally.readable(t, looker, path, all)
	study.LeftOut("unbroken, not read as drawn", len(all)-len(originals), len(all), 0.25)
	if len(originals) == 0 {
		t.Fatal("none of the unbroken pictures is read")
	}
	for i := range n {
		r := rand.New(rand.NewPCG(uint64(seed), uint64(i)))
		o := originals[r.IntN(len(originals))]
		how, data := mutate(r, o, originals)
		got, refused := readAt(t, looker, path+o.ending, data)
		result, trouble := tally.add(how, o, got, refused)
		if trouble != "" {
			t.Logf("mutant %d, %s of %s: %s: %s", i, how, o.name, result, trouble)
			keepMutant(t, fmt.Sprintf("%d-%s%s", i, how, o.ending), data)
		}
		withinMemory(t)
	}
	tally.log(t)
	tally.judge(&study, n)
	study.Held(t)
}

// asked is a number of the environment; one that is none fails the test.
func asked(t *testing.T, name string, own int) int {
	t.Helper()
	text := os.Getenv(name)
	if text == "" {
		return own
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		t.Fatalf("%s=%s is no number from 1 on", name, text)
	}
	return n
}

// mutants counts what broken pictures were read as.
type mutants struct {
	count                           map[string]int // by how they were broken, and the outcome
	rightly, falsely, shown, faults int
}

// add counts one, and says what the trouble with it is.
func (m *mutants) add(how string, o original, got ruler.Reading, refused string) (result, trouble string) {
	switch {
	case refused == "program-fault" || got.Reason.Code == "program-fault":
		result, trouble = "A FAULT OF THE PROGRAM", got.Reason.Text(0)
		m.faults++
	case refused != "":
		result = "refused as " + refused
	case got.Status != ruler.StatusRead:
		result = "not read: " + got.Reason.Code
	case unlike(got, o.reading) == "":
		result = "read rightly"
		m.rightly++
	default:
		result, trouble = "READ FALSELY", unlike(got, o.reading)
		m.falsely++
		if how == "truncation" || o.ending == ".png" {
			m.shown++
		}
	}
	m.count[how+": "+result]++
	return result, trouble
}

func (m *mutants) log(t *testing.T) {
	t.Helper()
	for _, what := range slices.Sorted(maps.Keys(m.count)) {
		t.Logf("%6d  %s", m.count[what], what)
	}
}

func (m *mutants) judge(s *claim.Study, n int) {
	s.Hold("faults of the program", claim.Count(m.faults, n), claim.AtMost(0))
	s.Hold("read falsely", claim.Share(m.falsely, n), claim.AtMost(mostReadFalsely))
	s.Hold("read falsely, though their structure shows that they are broken", claim.Count(m.shown, n), claim.AtMost(0))
	s.Hold("read rightly", claim.Share(m.rightly, n), claim.AtLeast(leastRead))
	s.Hold("memory, MB", claim.Count(peakMemory()>>20, n), claim.AtMost(mostMutantsMB))
}

// readable reads the unbroken pictures and leaves out those that are not read, or not as they were
// drawn: what they are read as when broken says nothing about the breaking. A fault of the
// program counts here too.
func (m *mutants) readable(t *testing.T, l *Looker, path string, all []original) []original {
	t.Helper()
	var sound []original
	for _, o := range all {
		o.reading, _ = readAt(t, l, path+o.ending, o.data)
		front := o.reading.Front
		switch {
		case o.reading.Reason.Code == "program-fault":
			t.Logf("%s: A FAULT OF THE PROGRAM: %s", o.name, o.reading.Reason.Text(0))
			m.faults++
		case o.reading.Status != ruler.StatusRead:
			t.Logf("%s is left out: it is not read", o.name)
		case o.front != nil && (front == nil || math.Hypot(front.At.X-o.front.X, front.At.Y-o.front.Y) > max(2,
			0.5e-3*o.reading.PxPerM)):
			t.Logf("%s is left out: unbroken, it is not read as it was drawn", o.name)
		default:
			sound = append(sound, o)
		}
	}
	return sound
}

// keepMutant puts a mutant that made trouble where LEADMARK_KEEP says.
func keepMutant(t *testing.T, name string, data []byte) {
	t.Helper()
	if dir := os.Getenv("LEADMARK_KEEP"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o666); err != nil {
			t.Error(err)
		}
	}
}

// original is a picture before it is broken, and what it reads as.
type original struct {
	name, ending string
	data         []byte
	front        *ruler.Point // where it was drawn; nil for a photograph
	reading      ruler.Reading
}

// mutated are drawn frames as JPEG, as PNG and inside a RAW file, and the photographs of real
// rulers where they are at hand.
func mutated(t *testing.T, seed uint64) []original {
	t.Helper()
	var all []original
	for k := range 6 {
		im, truth := photo.Render(studies.At("small", seed, uint64(k+1)).Scene)
		var j, p bytes.Buffer
		if err := jpeg.Encode(&j, im, &jpeg.Options{Quality: 85}); err != nil {
			t.Fatal(err)
		}
		name := fmt.Sprintf("drawn frame %d", k+1)
		all = append(all, original{name: name, ending: ".jpg", data: j.Bytes(), front: &truth.FrontPX})
		if k == 0 {
			if err := png.Encode(&p, im); err != nil {
				t.Fatal(err)
			}
			all = append(all, original{name: name + " as PNG", ending: ".png", data: p.Bytes(), front: &truth.FrontPX})
		}
		if k == 1 && max(im.Rect.Dx(), im.Rect.Dy()) >= 1000 {
			raw := []byte("II*\x00\x08\x00\x00\x00\x02\x00\x01\x02\x04\x00\x01\x00\x00\x00\x26\x00\x00\x00\x02\x02\x04\x00\x01\x00\x00\x00")
			raw = append(binary.LittleEndian.AppendUint32(raw, uint32(j.Len())), 0, 0, 0, 0)
			all = append(all, original{name: name + " in a NEF", ending: ".nef", data: append(raw, j.Bytes()...),
				front: &truth.FrontPX})
		}
	}
	// the smaller ones: the larger take long and are no other
	for _, name := range []string{"scalecard_mich_a.jpg", "moth_tape_960.jpg"} {
		data, err := os.ReadFile(filepath.Join(testdata.PhotographFolder(t, "rulers"), name))
		if err != nil {
			t.Logf("no photographs here, drawn frames alone are broken: %v", err)
			break
		}
		all = append(all, original{name: name, ending: ".jpg", data: data})
	}
	return all
}

// mutate breaks a picture in one of four ways.
func mutate(r *rand.Rand, o original, all []original) (how string, data []byte) {
	data = bytes.Clone(o.data)
	switch r.IntN(4) {
	case 0:
		for range 1 + r.IntN(20) {
			data[r.IntN(len(data))] ^= 1 << r.IntN(8)
		}
		return "bit flips", data
	case 1:
		data = data[:r.IntN(len(data))]
		if r.IntN(2) == 0 && o.ending == ".jpg" { // an end is put on, so that only the missing data tell
			data = append(data, 0xFF, 0xD9)
		}
		return "truncation", data
	case 2:
		other := all[r.IntN(len(all))].data
		at := 2 + r.IntN(1000)
		return "spliced header", append(bytes.Clone(other[:min(at, len(other))]), data[min(at, len(data)):]...)
	}
	return "false size", falseSize(r, data)
}

// falseSize states another width or height in the header, the check sum of a PNG with it.
func falseSize(r *rand.Rand, data []byte) []byte {
	size := uint32(1 + r.IntN(1<<(4+r.IntN(13))))
	if bytes.HasPrefix(data, []byte("\x89PNG")) {
		at := 16 + 4*r.IntN(2)
		binary.BigEndian.PutUint32(data[at:], size)
		binary.BigEndian.PutUint32(data[29:], crc32.ChecksumIEEE(data[12:29]))
		return data
	}
	if at := bytes.Index(data, []byte{0xFF, 0xC0, 0, 17, 8}); at > 0 {
		binary.BigEndian.PutUint16(data[at+5+2*r.IntN(2):], uint16(size))
	}
	return data
}

func readAt(t *testing.T, l *Looker, path string, data []byte) (r ruler.Reading, refused string) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
	f, bad := frame.Open(path)
	if bad != nil {
		return r, bad.Code
	}
	s, err := l.Look(context.Background(), f, ruler.Hint{})
	if err != nil {
		t.Fatal(err)
	}
	return reading.Interpret(s, ruler.Spec{}), ""
}

// unlike says how a reading is another than the unbroken picture's: in its scale there, in the
// place of its graduations, or in a front end. "" where it is the same as far as both go: a part of
// the ruler may be gone.
func unlike(got, want ruler.Reading) string {
	pitch := want.Graduation * want.PxPerM
	tol := max(1.5, 0.15*pitch)
	switch {
	case got.Front != nil && want.Front == nil:
		return "a front end where there is none"
	case got.Front != nil && math.Hypot(got.Front.At.X-want.Front.At.X, got.Front.At.Y-want.Front.At.Y) > max(2,
		0.5e-3*want.PxPerM):
		return fmt.Sprintf("the front end is off by %.0f px",
			math.Hypot(got.Front.At.X-want.Front.At.X, got.Front.At.Y-want.Front.At.Y))
	}
	off := 0
	for g := range got.Graduations.All() {
		near := nearest(g, want.Graduations)
		along := math.Abs((near.At.X-g.At.X)*want.Scale.Dir.X + (near.At.Y-g.At.Y)*want.Scale.Dir.Y)
		if along > tol || got.Absolute && want.Absolute && math.Abs(near.Reading-g.Reading) > 0.6*want.Graduation {
			off++
		}
	}
	if 5*off > got.Graduations.Len() {
		return fmt.Sprintf("%d of %d graduations lie elsewhere", off, got.Graduations.Len())
	}
	return ""
}

// nearest is the graduation that lies nearest to another.
func nearest(g ruler.Graduation, all ruler.Graduations) ruler.Graduation {
	best, at := math.Inf(1), ruler.Graduation{}
	for h := range all.All() {
		if d := math.Hypot(h.At.X-g.At.X, h.At.Y-g.At.Y); d < best {
			best, at = d, h
		}
	}
	return at
}
