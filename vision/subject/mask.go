package subject

import "leadmark/vision/pixel"

// anySet says whether any pixel is not 0.
func anySet(g *pixel.Gray) bool {
	for _, v := range g.Pix {
		if v > 0 {
			return true
		}
	}
	return false
}

// fillHoles sets what cannot be reached from the picture's rim over pixels that are 0.
func fillHoles(g *pixel.Gray) {
	seen := make([]bool, len(g.Pix))
	var stack []int
	visit := func(x, y int) {
		if x < 0 || y < 0 || x >= g.W || y >= g.H {
			return
		}
		if i := y*g.W + x; g.Pix[i] == 0 && !seen[i] {
			seen[i] = true
			stack = append(stack, i)
		}
	}
	for x := range g.W {
		visit(x, 0)
		visit(x, g.H-1)
	}
	for y := range g.H {
		visit(0, y)
		visit(g.W-1, y)
	}
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		x, y := i%g.W, i/g.W
		visit(x-1, y)
		visit(x+1, y)
		visit(x, y-1)
		visit(x, y+1)
	}
	for i := range g.Pix {
		if g.Pix[i] == 0 && !seen[i] {
			g.Pix[i] = 255
		}
	}
}
