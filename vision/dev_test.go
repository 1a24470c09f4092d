package vision

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"leadmark/frame"
	"leadmark/ruler"
)

func TestDevGroups(t *testing.T) {
	files, _ := filepath.Glob(os.Getenv("DEV"))
	for _, fn := range files {
		g, err := decodeGray(frame.Frame{Path: fn, Orientation: 1})
		if err != nil {
			t.Log(fn, err)
			continue
		}
		st := time.Now()
		p := newPyramid(g, 3)
		gs := findGroups(p, ruler.Hint{})
		fmt.Println(filepath.Base(fn), g.w, g.h, time.Since(st))
		for i, q := range gs {
			if i > 9 {
				break
			}
			a, b := q.origin.Add(q.dir.Mul(q.t0)), q.origin.Add(q.dir.Mul(q.t1))
			fmt.Printf("  L%d n=%d rank %.1f pitch %.2f slope %.4f  (%.0f,%.0f)-(%.0f,%.0f) w %.0f..%.0f", q.level, len(q.tiles), q.rank(), q.pitch0, q.slope, a.X, a.Y, b.X, b.Y, q.w0, q.w1)
			f, ok := findRow(p, q)
			if ok {
				r := f.row(p)
				m := r.Marks
				e := r.Origin.Add(r.Dir.Mul(m[0].T))
				z := r.Origin.Add(r.Dir.Mul(m[len(m)-1].T))
				_, rms := resid(f.ticks)
				fmt.Printf(" => %d of %d p %.3f (%.1f,%.1f)-(%.1f,%.1f) half %.1f dark %v c %.4f n %.4f rms %.3f", len(m), m[len(m)-1].Index-m[0].Index+1, r.Pitch, e.X, e.Y, z.X, z.Y, r.HalfLength, r.DarkMarks, r.Contrast, r.Noise, rms)
				if i < 0 {
					for _, st := range r.Steps {
						c := st.Line.A.Add(st.Line.B).Mul(.5)
						fmt.Printf("\n     step T %.2f u %.3f w %.2f c %.3f coh %.2f at %.1f,%.1f", st.T, st.U, st.WidthPX, st.Contrast, st.Coherent, c.X, c.Y)
					}
					fmt.Printf("\n     sides %v %v markdir %.3f\n    ", r.Sides[0], r.Sides[1], r.MarkDir(0))
					for _, q := range m {
						fmt.Printf(" %.1f", q.Length/r.Pitch)
					}
				}
			}
			fmt.Println()
		}
	}
	_ = context.Background
}

func resid(ticks []tick) (a, rms float64) {
	c, b := lineThrough(ticks)
	for _, q := range ticks {
		d := q.t - c - b*float64(q.index)
		rms += d * d
	}
	return c, math.Sqrt(rms / float64(len(ticks)))
}
