package scale

import (
	"math/rand/v2"
	"testing"

	"leadmark/vision/ruler"
)

// inchMarks are lines of 1/32 inch, lengths in pitches, from first to last with the zero line at zero.
func inchMarks(first, last, zero int) ruler.Row {
	row := ruler.Row{Pitch: 10}
	for i := first; i <= last; i++ {
		k := (i - zero) & 31
		length := 1.5
		for _, c := range []struct {
			every int
			long  float64
		}{{2, 3}, {4, 4.5}, {8, 6}, {16, 7.3}, {32, 8.8}} {
			if k%c.every == 0 {
				length = c.long
			}
		}
		row.Marks = append(row.Marks, ruler.Mark{T: 10 * float64(i), Index: i, Length: 10 * length, Strength: 1})
	}
	return row
}

func inchMatch(t *testing.T, row ruler.Row) Match {
	t.Helper()
	l, ok := Fit(row.Marks)
	if !ok {
		t.Fatal("no scale")
	}
	spec := ruler.Spec{Graduation: inch / 32}
	m := Believed(Identify(row, LengthsOf(row, &l), spec), spec)
	if m.Graduation == 0 {
		t.Fatal("no pattern believed")
	}
	return m
}

// With a single one of the two longest lines in view nothing tells an inch from its half.
func TestInchOrHalfInch(t *testing.T) {
	if m := inchMatch(t, inchMarks(-9, 20, -10)); !m.either || m.Period() != 16 || (m.Phase-6)%16 != 0 {
		t.Errorf("phase %d, known up to %g", m.Phase, m.Period())
	}
	if m := inchMatch(t, inchMarks(-12, 26, -10)); m.either || m.Period() != 32 || (m.Phase+10)%32 != 0 {
		t.Errorf("both in view: phase %d, known up to %g", m.Phase, m.Period())
	}
}

// What covers a line shortens it: one of two half inches, at the end of the row, says nothing
// against the other.
func TestOneCoveredLine(t *testing.T) {
	row := inchMarks(-25, 22, 6)
	row.Marks[len(row.Marks)-1].Length = 0
	if m := inchMatch(t, row); (m.Phase-6)%32 != 0 {
		t.Errorf("phase %d, want 6", m.Phase)
	}
}

// Nor does one that the picture's border cuts.
func TestLineCutByTheBorder(t *testing.T) {
	row := ruler.Row{Pitch: 10}
	for i := -7; i <= 32; i++ {
		length := map[bool]float64{true: 2, false: 4}[i&1 != 0]
		switch {
		case (i-12)%20 == 0:
			length = 9.5
		case (i-12)%10 == 0:
			length = 6.8
		}
		row.Marks = append(row.Marks, ruler.Mark{T: 10 * float64(i), Index: i, Length: 10 * length, Strength: 1})
	}
	last := &row.Marks[len(row.Marks)-1]
	last.Length, last.Cut = 39, true
	l, _ := Fit(row.Marks)
	spec := ruler.Spec{Graduation: 0.5e-3}
	if m := Believed(Identify(row, LengthsOf(row, &l), spec), spec); m.Graduation != 0.5e-3 ||
		(m.Phase-12)%20 != 0 {
		t.Errorf("graduation %g, phase %d", m.Graduation, m.Phase)
	}
}

// lines are n lines 10 px apart, each so long, pitches, a little off.
func lines(n int, length func(i int) float64) ruler.Row {
	r := rand.New(rand.NewPCG(5, 5))
	row := ruler.Row{Pitch: 10}
	for i := range n {
		row.Marks = append(row.Marks, ruler.Mark{T: 10 * float64(i), Index: i, Length: 10 * (length(i) + 0.1*r.NormFloat64()), Strength: 1})
	}
	return row
}

// steps are lengths by what the count can be divided by, the first that fits, else 1.5.
func steps(divisors []int, length []float64) func(i int) float64 {
	return func(i int) float64 {
		for k, d := range divisors {
			if i%d == 0 {
				return length[k]
			}
		}
		return 1.5
	}
}

// Fiftieths of an inch have longer lines in fives, as millimetres have; what is longer beyond those
// tells them apart, and a stated graduation that is the other's is not believed, nor is twice it.
func TestFiftiethsOfAnInch(t *testing.T) {
	fiftieths := lines(140, steps([]int{50, 25, 5}, []float64{5, 3.5, 2.4}))
	millimetres := lines(140, steps([]int{10, 5}, []float64{3.4, 2.4}))
	for _, c := range []struct {
		name         string
		row          ruler.Row
		stated, want float64
	}{
		{"fiftieths", fiftieths, 0, inch / 50}, {"fiftieths stated", fiftieths, inch / 50, inch / 50},
		{"fiftieths, millimetres stated", fiftieths, 1e-3, 0}, {"fiftieths, halves stated", fiftieths, 0.5e-3, 0},
		{"millimetres", millimetres, 0, 1e-3}, {"millimetres stated", millimetres, 1e-3, 1e-3},
		{"millimetres, fiftieths stated", millimetres, inch / 50, 0}, {"millimetres, halves stated", millimetres, 0.5e-3, 0},
		{"tenths of an inch stated", millimetres, inch / 10, inch / 10},
	} {
		l, _ := Fit(c.row.Marks)
		spec := ruler.Spec{Graduation: c.stated}
		if m := Believed(Identify(c.row, LengthsOf(c.row, &l), spec), spec); m.Graduation != c.want {
			t.Errorf("%s: read as %g mm, want %g mm", c.name, m.Graduation*1e3, c.want*1e3)
		}
	}
}

// Lines in tens and fives are a millimetre ruler's where their shortest are some 3 mm long as such, and
// a tenth-inch ruler's where they would be hardly 1 mm.
func TestShortLines(t *testing.T) {
	row := lines(80, steps([]int{10, 5}, []float64{3.4, 2.4}))
	l, _ := Fit(row.Marks)
	for _, c := range []struct{ half, want float64 }{{1.5, 1e-3}, {0.2, inch / 10}} { // pitches
		row.HalfLength = c.half * row.Pitch
		if m := Believed(Identify(row, LengthsOf(row, &l), ruler.Spec{}), ruler.Spec{}); m.Graduation != c.want {
			t.Errorf("shortest lines of %.1f graduations: read as %g mm, want %g mm", 2*c.half, 1e3*m.Graduation, 1e3*c.want)
		}
	}
}

// Where half inches seem as long as inches, as lines do that run on past what is measured, the place of
// the longest is known up to half an inch.
func TestLongestLinesAlike(t *testing.T) {
	for _, c := range []struct {
		half   float64 // pitches, a half inch's length; an inch's: 6
		period float64
	}{{5.2, 32}, {6, 16}} {
		row := lines(110, steps([]int{32, 16, 8, 4, 2}, []float64{6, c.half, 4.4, 3.4, 2.4}))
		l, _ := Fit(row.Marks)
		spec := ruler.Spec{Graduation: inch / 32}
		if m := Believed(Identify(row, LengthsOf(row, &l), spec), spec); m.Period() != c.period || m.Phase%16 != 0 {
			t.Errorf("half inches of %.1f graduations: phase %d, known up to %v, want %v", c.half, m.Phase, m.Period(), c.period)
		}
	}
}
