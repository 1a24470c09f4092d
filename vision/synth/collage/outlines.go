package collage

import "leadmark/vision/synth/plane"

// outline is a ruler in a photograph, drawn by eye. Its corners go round from one end of the upper
// long edge, as it lies there, to the other and back along the lower one.
type outline struct {
	folder, file string
	corners      [4]plane.Point
	left, right  bool    // the end between the last and the first corner, and that opposite, are ends
	inset        float64 // px of the photograph that are cut off all round
	corner       float64 // px, radius of the corners
	turned       bool    // the file is stored turned by its orientation tag, 8
	finest       float64 // mm, where there are finer graduations than truth.json lists; else 0
}

// part is a part of a photograph without a ruler, in shares of its width and height.
type part struct {
	folder, file   string
	x0, y0, x1, y1 float64
}

func outlines() []outline {
	p := func(v ...float64) (c [4]plane.Point) {
		for i := range c {
			c[i] = plane.Point{X: v[2*i], Y: v[2*i+1]}
		}
		return c
	}
	return []outline{
		{"rulers", "fish_ruler_100682.jpg", p(277, 2590, 2974, 2608, 2969, 3476, 273, 3464), true, true, 6, 0, false, 0},
		{"rulers", "fish_ruler_100314.jpg", p(1055, 2605, 4728, 2660, 4714, 3856, 1029, 3802), true, true, 8, 0, false, 0},
		{"rulers", "fish_ruler_dark.jpg", p(234, 499, 961, 498, 961, 730, 236, 736), true, true, 2, 0, false, 0},
		{"rulers", "fish_ruler_normal.jpg", p(195, 521, 917, 524, 916, 759, 194, 754), true, true, 2, 0, false, 0},
		{"rulers", "optical_ruler_hires.jpg", p(561, 22, 1720, 36, 1720, 165, 561, 150), true, true, 3, 17, false, 0},
		{"rulers", "optical_ruler_lowres.jpg", p(346, 12, 1063, 20, 1062, 100, 346, 92), true, true, 2, 11, false, 0},
		{"rulers-more", "acrylic_blue_a.jpg", p(2686, 4, 2619, 3450, 2070, 3430, 2137, 4), false, true, 5, 0, true, 0},
		{"rulers-more", "pcb_black_50ths.jpg", p(281, 347, 1163, 331, 1163, 601, 278, 620), true, false, 4, 8, false, 0},
		{"rulers-more", "steel_device.jpg", p(81, 747, 1553, 1039, 859, 1039, 26, 836), true, false, 3, 0, false, 0},
		{"rulers-more", "steel_upright_dof.jpg", p(270, 2, 271, 311, 409, 311, 410, 2), false, true, 2, 0, false, 0},
		{"rulers-more", "white_plastic_board.jpg", p(1408, 1592, 4588, 1484, 4588, 2588, 1442, 2686), true, false, 8, 0,
			false, 0},
		{"rulers", "moth_tape_960.jpg", p(2, 508, 957, 508, 957, 637, 2, 637), false, false, 1, 0, false, 0.5},
		{"rulers-more", "steel_corner.jpg", p(4, 444, 1250, 30, 1250, 356, 4, 772), false, false, 3, 0, false, 0},
	}
}

func parts() []part {
	return []part{
		{"rulers", "fish_ruler_100314.jpg", 0.55, 0.06, 1, 0.6},
		{"rulers", "fish_ruler_100682.jpg", 0.15, 0.05, 0.9, 0.48},
		{"rulers", "optical_ruler_hires.jpg", 0, 0.1, 1, 1},
		{"rulers", "scalecard_mich_a.jpg", 0.05, 0.33, 0.95, 1},
		{"rulers", "scalecard_mich_b.jpg", 0, 0.27, 1, 0.95},
		{"rulers-more", "pcb_black_50ths.jpg", 0, 0, 1, 0.24},
		{"rulers-more", "pcb_black_50ths.jpg", 0, 0.5, 0.22, 1},
		{"rulers-more", "homemade_colours.jpg", 0, 0.5, 1, 1},
		{"rulers-more", "steel_device.jpg", 0.08, 0.12, 0.9, 0.66},
		{"rulers", "pcbruler_mat_negative.jpg", 0, 0, 1, 1},
		{"rulers", "pcbruler_hand.png", 0.25, 0.65, 1, 1},
		{"rulers-more", "acrylic_blue_a.jpg", 0, 0, 0.66, 0.85},
		{"rulers", "moth_tape_960.jpg", 0, 0, 1, 0.7},
		{"rulers-more", "caliper_jaws.jpg", 0, 0, 0.42, 0.75},
		{"rulers-more", "white_plastic_board.jpg", 0, 0, 0.42, 0.5},
		{"rulers-more", "steel_corner.jpg", 0.25, 0.3, 1, 1},
		{"rulers-more", "steel_upright_dof.jpg", 0.72, 0, 1, 1},
	}
}
