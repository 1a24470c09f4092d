package vision

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"leadmark/frame"
	"leadmark/ruler"
)

func TestDevRows(t *testing.T) {
	files, _ := filepath.Glob(os.Getenv("DEV"))
	for _, fn := range files {
		fr, ref := frame.Open(fn)
		if ref != nil {
			fmt.Println(fn, ref)
			continue
		}
		g, err := decodeGray(fr)
		if err != nil {
			t.Log(fn, err)
			continue
		}
		s := sight(g, ruler.Hint{})
		fmt.Println(filepath.Base(fn), g.w, g.h, s.Refusal)
		for _, r := range s.Rows {
			fmt.Println("   ", ruler.Describe(r))
			if os.Getenv("STEPS") != "" {
				for _, st := range r.Steps {
					c := st.Line.A.Add(st.Line.B).Mul(.5)
					fmt.Printf("     step T %.2f u %.3f w %.2f c %.3f coh %.2f at %.1f,%.1f\n", st.T, st.U, st.WidthPX, st.Contrast, st.Coherent, c.X, c.Y)
				}
				fmt.Printf("     sides %v %v markdir %.3f\n", r.Sides[0], r.Sides[1], r.MarkDir(0))
			}
		}
	}
}
