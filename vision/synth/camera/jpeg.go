package camera

import (
	"bufio"
	"image"
	"io"
	"math"
)

// Thin is how the colours of a JPEG are thinned out.
type Thin string

// The usual ways: half as many colours each way, or half as many across.
const (
	Thin420 Thin = "4:2:0"
	Thin422 Thin = "4:2:2"
)

// Encode writes the picture as a baseline JPEG (ITU-T T.81) with the tables of its annex K. The Go
// library's encoder thins colours one way only.
func (c Camera) Encode(w io.Writer, im *image.RGBA) error {
	e := encoder{w: bufio.NewWriter(w), down: 2}
	if c.Thin == Thin422 {
		e.down = 1
	}
	e.tables(c.Quality)
	b := im.Rect.Size()
	e.head(b.X, b.Y)
	e.scan(split(im, e.down))
	return e.w.Flush()
}

// encoder writes one file.
type encoder struct {
	w     *bufio.Writer
	down  int           // brightness blocks down for one of colour; across it is two
	quant [2][64]uint16 // in rows
	bits  uint32
	n     uint
	codes [4][256]code // of brightness and colour: DC, AC
	last  [3]int       // DC of the last block
	turn  [8][8]float32
}

// code is a Huffman code.
type code struct {
	bits uint32
	n    uint
}

func zigzag() [64]int {
	return [64]int{0, 1, 8, 16, 9, 2, 3, 10, 17, 24, 32, 25, 18, 11, 4, 5, 12, 19, 26, 33, 40, 48, 41, 34, 27, 20,
		13, 6, 7, 14, 21, 28, 35, 42, 49, 56, 57, 50, 43, 36, 29, 22, 15, 23, 30, 37, 44, 51, 58, 59, 52, 45, 38, 31,
		39, 46, 53, 60, 61, 54, 47, 55, 62, 63}
}

// tables sets the quantisation of a quality as the Independent JPEG Group's library scales annex
// K.1's tables, the Huffman codes, and the cosines.
func (e *encoder) tables(quality int) {
	k := 200 - 2*quality
	if quality < 50 {
		k = 5000 / max(1, quality)
	}
	for t, base := range annexK1() {
		for i, v := range base {
			e.quant[t][i] = uint16(min(255, max(1, (v*k+50)/100)))
		}
	}
	for t, h := range annexK3() {
		c, i := uint32(0), 0
		for n, many := range h.counts {
			for range many {
				e.codes[t][h.values[i]] = code{c, uint(n + 1)}
				c, i = c+1, i+1
			}
			c <<= 1
		}
	}
	for u := range 8 {
		for x := range 8 {
			v := math.Cos(float64(2*x+1)*float64(u)*math.Pi/16) / 2
			if u == 0 {
				v /= math.Sqrt2
			}
			e.turn[u][x] = float32(v)
		}
	}
}

// segment writes a marker with what follows.
func (e *encoder) segment(marker byte, data []byte) {
	n := len(data) + 2
	e.w.Write([]byte{0xFF, marker, byte(n >> 8), byte(n)})
	e.w.Write(data)
}

// head writes all before the scan.
func (e *encoder) head(w, h int) {
	e.w.Write([]byte{0xFF, 0xD8})
	e.segment(0xE0, []byte("JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00"))
	for t := range e.quant {
		q := []byte{byte(t)}
		for _, i := range zigzag() {
			q = append(q, byte(e.quant[t][i]))
		}
		e.segment(0xDB, q)
	}
	e.segment(0xC0, []byte{8, byte(h >> 8), byte(h), byte(w >> 8), byte(w), 3,
		1, byte(0x20 | e.down), 0, 2, 0x11, 1, 3, 0x11, 1})
	for t, h := range annexK3() {
		e.segment(0xC4, append(append([]byte{[]byte{0x00, 0x10, 0x01, 0x11}[t]}, h.counts[:]...), h.values...))
	}
	e.segment(0xDA, []byte{3, 1, 0x00, 2, 0x11, 3, 0x11, 0, 63, 0})
}

// planes are brightness and the two colours of a picture, each made whole blocks by repeating its
// border.
type planes struct {
	v    [3][]float32
	w, h [3]int
}

// split turns red, green and blue into JFIF's planes.
func split(im *image.RGBA, down int) (p planes) {
	b := im.Rect.Size()
	wide, high := (b.X+15)/16, (b.Y+8*down-1)/(8*down)
	for k := range p.v {
		p.w[k], p.h[k] = 8*wide, 8*high
		if k == 0 {
			p.w[k], p.h[k] = 16*wide, 8*down*high
		}
		p.v[k] = make([]float32, p.w[k]*p.h[k])
	}
	part := 1 / float32(2*down)
	for y := range p.h[0] {
		row := im.Pix[im.PixOffset(im.Rect.Min.X, im.Rect.Min.Y+min(y, b.Y-1)):]
		for x := range p.w[0] {
			o := 4 * min(x, b.X-1)
			r, g, bl := float32(row[o]), float32(row[o+1]), float32(row[o+2])
			p.v[0][y*p.w[0]+x] = 0.299*r + 0.587*g + 0.114*bl - 128
			i := y/down*p.w[1] + x/2
			p.v[1][i] += part * (-0.168736*r - 0.331264*g + 0.5*bl)
			p.v[2][i] += part * (0.5*r - 0.418688*g - 0.081312*bl)
		}
	}
	return p
}

// scan writes the blocks, those of brightness first in each unit.
func (e *encoder) scan(p planes) {
	for y := 0; y < p.h[1]; y += 8 {
		for x := 0; x < p.w[1]; x += 8 {
			for d := range e.down {
				for a := range 2 {
					e.block(p.v[0], p.w[0], 2*x+8*a, e.down*y+8*d, 0)
				}
			}
			e.block(p.v[1], p.w[1], x, y, 1)
			e.block(p.v[2], p.w[2], x, y, 2)
		}
	}
	e.put(code{0x7F, 7})
	e.w.Write([]byte{0xFF, 0xD9})
}

// block writes the one whose first value stands at (x, y).
func (e *encoder) block(v []float32, stride, x, y, plane int) {
	t := min(plane, 1)
	f := e.transform(v[y*stride+x:], stride)
	var q [64]int
	for i, z := range zigzag() {
		q[i] = int(math.RoundToEven(float64(f[z] / float32(e.quant[t][z]))))
	}
	d := q[0] - e.last[plane]
	e.last[plane] = q[0]
	e.value(&e.codes[2*t], 0, d)
	run := 0
	for _, a := range q[1:] {
		if a == 0 {
			run++
			continue
		}
		for ; run > 15; run -= 16 {
			e.put(e.codes[2*t+1][0xF0])
		}
		e.value(&e.codes[2*t+1], run, a)
		run = 0
	}
	if run > 0 {
		e.put(e.codes[2*t+1][0])
	}
}

// transform is the cosine transform of a block, rows then columns.
func (e *encoder) transform(v []float32, stride int) (out [64]float32) {
	var half [64]float32
	for y := range 8 {
		row := v[y*stride:][:8]
		for u := range 8 {
			c := &e.turn[u]
			half[8*y+u] = c[0]*row[0] + c[1]*row[1] + c[2]*row[2] + c[3]*row[3] + c[4]*row[4] + c[5]*row[5] +
				c[6]*row[6] + c[7]*row[7]
		}
	}
	for w := range 8 {
		c := &e.turn[w]
		for u := range 8 {
			out[8*w+u] = c[0]*half[u] + c[1]*half[8+u] + c[2]*half[16+u] + c[3]*half[24+u] + c[4]*half[32+u] +
				c[5]*half[40+u] + c[6]*half[48+u] + c[7]*half[56+u]
		}
	}
	return out
}

// value writes a value behind so many zeros.
func (e *encoder) value(codes *[256]code, run, v int) {
	size, a := uint(0), max(v, -v)
	for a>>size > 0 {
		size++
	}
	e.put(codes[run<<4|int(size)])
	if v < 0 {
		v += 1<<size - 1
	}
	e.put(code{uint32(v), size})
}

// put writes bits, the highest first; a byte of ones is followed by a zero byte.
func (e *encoder) put(c code) {
	e.bits = e.bits<<c.n | c.bits
	for e.n += c.n; e.n >= 8; e.n -= 8 {
		b := byte(e.bits >> (e.n - 8))
		e.w.WriteByte(b)
		if b == 0xFF {
			e.w.WriteByte(0)
		}
	}
	e.bits &= 1<<e.n - 1
}
