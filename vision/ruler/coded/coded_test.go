package coded

import (
	"math/bits"
	"math/rand/v2"
	"testing"

	"leadmark/vision/ruler"
)

// windows returns every window of w cells of the code as bits, read upwards and downwards, and
// where its zero line lies, counted in cells from the window's first graduation the way it is read.
func windows(w int) (words []uint64, zero []int) {
	for first := 0; first+w <= Cells; first++ {
		var up, down uint64
		for k := range w {
			if Dark(first + k) {
				up |= 1 << k
			}
			if Dark(first + w - 1 - k) {
				down |= 1 << k
			}
		}
		words, zero = append(words, up, down), append(zero, -first, first+w)
	}
	return words, zero
}

// Every pair of windows of the sequence over both senses: the distances that the documents state.
func TestDistance(t *testing.T) {
	for _, c := range []struct{ cells, least, leastTens int }{{Window, Distance, DistanceTens},
		{30, 6, 8}} {
		words, zero := windows(c.cells)
		least, leastTens := c.cells, c.cells
		for i, a := range words {
			for j, b := range words[:i] {
				d := bits.OnesCount64(a ^ b)
				least = min(least, d)
				if (zero[i]-zero[j])%10 == 0 {
					leastTens = min(leastTens, d)
				}
			}
		}
		t.Logf("windows of %d cells: %d words, least distance %d, %d with like graduations", c.cells, len(words),
			least, leastTens)
		if least < c.least || leastTens < c.leastTens {
			t.Errorf("windows of %d cells: least distance %d (want %d), %d with like graduations (want %d)",
				c.cells, least, c.least, leastTens, c.leastTens)
		}
	}
}

// codedRow makes a row of marks with cells, as a camera would show them from a reading on.
func codedRow(first, n, sense int) ruler.Row {
	r := ruler.Row{DarkMarks: true, Contrast: 0.3, Side: float64(sense), Pitch: 10, Dir: ruler.Point{X: 1}}
	r.Cells.First = 5
	for k := range n {
		cell := first + k
		if sense < 0 {
			cell = first + n - 1 - k
		}
		tone := 0.75
		if Dark(cell) {
			tone = 0.2
		}
		r.Cells.Tone = append(r.Cells.Tone, tone)
	}
	return r
}

// Every place, either way, gives its reading, with one cell turned in every third window too; but
// not all of these last, as the place must also beat every other.
func TestDecodeEverywhere(t *testing.T) {
	refused := 0
	for first := 0; first+Window <= Cells; first++ {
		for _, sense := range []int{+1, -1} {
			row := codedRow(first, Window, sense)
			if first%3 == 0 {
				k := first % Window
				row.Cells.Tone[k] = 0.95 - row.Cells.Tone[k]
			}
			fix, _, ok := Decode(row)
			if !ok && first%3 == 0 {
				refused++
				continue
			}
			if !ok {
				t.Errorf("cells %d on, sense %d: not read", first, sense)
				continue
			}
			want := first
			if sense < 0 {
				want = first + Window
			}
			if got := fix.Sense * (row.Cells.First - fix.Zero); got != want || fix.Sense != sense {
				t.Fatalf("cells %d on, sense %d: the first mark reads %d, want %d", first, sense, got, want)
			}
		}
	}
	t.Logf("with one cell turned %d of %d were refused", refused, 2*(Cells/3))
	if refused > Cells/10 {
		t.Errorf("with one cell turned %d of %d were refused", refused, 2*(Cells/3))
	}
}

// Misread cells never give another reading, up to 3 of 29 by the code alone and up to 4 where the long
// graduations are seen: of each pair of windows that are near each other, as many cells are
// turned as make the one most like the other.
func TestDecodeNeverMisreads(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 1))
	words, zero := windows(Window)
	refused, tried := 0, 0
	for i := 0; i < len(words); i += 5 { // a fifth of the windows, each against all, takes a second or two
		for j, b := range words {
			a, turned := words[i], 3
			if (zero[i]-zero[j])%10 == 0 {
				turned = 4
			}
			near := bits.OnesCount64(a ^ b)
			if i == j || near > 7 && !(turned == 4 && near == 8) {
				continue
			}
			row := codedRow(-zero[i], Window, +1)
			if i%2 == 1 {
				row = codedRow(zero[i]-Window, Window, -1)
			}
			turn(row.Cells.Tone, a^b, turned, rnd)
			fix, _, ok := Decode(row)
			tried++
			if !ok {
				refused++
			} else if off := fix.Zero - row.Cells.First - zero[i]; off != 0 && (turned == 3 || off%10 == 0) {
				t.Errorf("window %d with %d cells turned towards %d: read with its zero at %d, want %d", i,
					turned, j, fix.Zero-row.Cells.First, zero[i])
			}
		}
	}
	t.Logf("of %d windows with cells turned towards another %d were refused", tried, refused)
}

// turn changes the tone of n of the cells that differ.
func turn(tone []float64, differ uint64, n int, rnd *rand.Rand) {
	for _, k := range rnd.Perm(len(tone)) {
		if differ>>k&1 == 1 && n > 0 {
			tone[k] = 0.95 - tone[k]
			n--
		}
	}
}

// Tones by chance are not read.
func TestDecodeRefusesChance(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 1))
	chance := 0
	for range 1000 {
		row := codedRow(0, Window, +1)
		for k := range row.Cells.Tone {
			row.Cells.Tone[k] = []float64{0.2, 0.75}[rnd.IntN(2)]
		}
		if _, _, ok := Decode(row); ok {
			chance++
		}
	}
	t.Logf("of 1000 windows by chance %d were read", chance)
	// 1544 words, each with 1 + 29 tones that are near enough, of 2^29: one window in 12,000.
	if chance > 2 {
		t.Errorf("%d windows of chance tones were read", chance)
	}
}
