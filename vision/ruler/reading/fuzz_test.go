package reading

import (
	"encoding/binary"
	"math"
	"testing"

	"leadmark/vision/ruler"
)

// reader makes numbers of bytes, from coarse ones to any float64 whatever.
type reader struct{ data []byte }

func (r *reader) byte() byte {
	if len(r.data) == 0 {
		return 0
	}
	b := r.data[0]
	r.data = r.data[1:]
	return b
}

func (r *reader) float() float64 {
	switch k := r.byte(); {
	case k < 160:
		return float64(int8(r.byte())) + float64(k)/160
	case k < 240:
		return float64(int(r.byte())<<8 + int(r.byte()))
	}
	var b [8]byte
	for i := range b {
		b[i] = r.byte()
	}
	return math.Float64frombits(binary.LittleEndian.Uint64(b[:]))
}

func (r *reader) point() ruler.Point { return ruler.Point{X: r.float(), Y: r.float()} }

func (r *reader) row() ruler.Row {
	w := ruler.Row{Origin: r.point(), Dir: r.point(), Lean: r.float(), Middle: r.float(),
		Side: float64(r.byte()%2)*2 - 1, Pitch: r.float(), DarkMarks: r.byte()%2 == 0,
		HalfLength: r.float(), Contrast: r.float(), Tone: r.float(), Noise: r.float()}
	t, pitch, n := r.float(), r.float(), int(r.byte())
	for i := range n {
		m := ruler.Mark{T: t, U: 0.05, Index: i, Strength: 1, Length: 5}
		switch k := r.byte(); {
		case k > 250:
			m.T, m.U, m.Length, m.Strength = r.float(), r.float(), r.float(), r.float()
		case k > 220:
			continue // a mark that is not seen
		case i%10 == 0:
			m.Length = 12
		case i%5 == 0:
			m.Length = 8
		}
		w.Marks = append(w.Marks, m)
		t += pitch
	}
	for range r.byte() % 5 {
		w.Steps = append(w.Steps, ruler.Step{T: r.float(), U: r.float(), Line: ruler.Line{A: r.point(), B: r.point()},
			WidthPX: r.float(), Contrast: r.float(), Coherent: r.float(), Outline: ruler.Outline(r.byte() % 5),
			Face: r.byte()%2 == 1})
	}
	if r.byte()%2 == 1 { // a coded strip
		w.Cells.First = int(int8(r.byte()))
		for range r.byte() {
			w.Cells.Tone = append(w.Cells.Tone, float64(r.byte())/255)
		}
	}
	return w
}

// FuzzInterpret: no rows of marks whatever make the reader panic or hang, and what it reads is finite.
func FuzzInterpret(f *testing.F) {
	plain := []byte{0, 100, 0, 100, 0, 10, 0, 0, 0, 0, 0, 0, 1, 10, 0, 0, 4, 0, 1, 0, 0, 0, 0, 0, 0, 10, 0, 40}
	f.Add(append(plain, make([]byte, 60)...), false)
	f.Add(append(plain, make([]byte, 200)...), true)
	f.Fuzz(func(t *testing.T, data []byte, twin bool) {
		r := reader{data}
		s := ruler.Sighting{Width: 4000, Height: 3000}
		for range 1 + r.byte()%3 {
			s.Rows = append(s.Rows, r.row())
		}
		front := r.float()
		got := Interpret(s, ruler.Spec{Graduation: 1e-3, Front: &front, Twin: twin})
		if got.Status == ruler.StatusRead && (math.IsNaN(got.PxPerM) || math.IsInf(got.PxPerM, 0)) {
			t.Errorf("%+v", got)
		}
		if got.Status != ruler.StatusRead && got.Reason.Code == "" {
			t.Error("refused without a reason")
		}
	})
}
