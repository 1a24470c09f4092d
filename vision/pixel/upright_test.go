package pixel_test

import (
	"testing"

	"leadmark/vision/pixel"
)

// Exif 2.3, table 6 (by exiftool's tag table): orientation n says where the stored row 0 and column
// 0 are seen: 1 top, left; 2 top, right; 3 bottom, right; 4 bottom, left; 5 left, top; 6 right,
// top; 7 right, bottom; 8 left, bottom. So the stored places (0, 0), (last, 0) and (0, last) are
// seen at:
func TestUprightByTheTableOfExif(t *testing.T) {
	const w, h = 5, 3
	type corner struct{ right, bottom bool }
	want := map[int][3]corner{ // of stored top left, top right, bottom left
		1: {{false, false}, {true, false}, {false, true}},
		2: {{true, false}, {false, false}, {true, true}},
		3: {{true, true}, {false, true}, {true, false}},
		4: {{false, true}, {true, true}, {false, false}},
		5: {{false, false}, {false, true}, {true, false}},
		6: {{true, false}, {true, true}, {false, false}},
		7: {{true, true}, {true, false}, {false, true}},
		8: {{false, true}, {false, false}, {true, true}},
	}
	for n, corners := range want {
		g := pixel.NewGray(w, h)
		g.Pix[0], g.Pix[w-1], g.Pix[(h-1)*w] = 10, 20, 30
		o := pixel.Upright(library, g, n)
		if turned := n >= 5; turned != (o.W == h && o.H == w) {
			t.Errorf("orientation %d: %d x %d", n, o.W, o.H)
			continue
		}
		for k, c := range corners {
			x, y := 0, 0
			if c.right {
				x = o.W - 1
			}
			if c.bottom {
				y = o.H - 1
			}
			if got := o.Pix[y*o.W+x]; got != uint8(10*(k+1)) {
				t.Errorf("orientation %d: %d at (%d, %d), want %d", n, got, x, y, 10*(k+1))
			}
		}
	}
	if o := pixel.Upright(library, &pixel.Gray{}, 6); o.W != 0 {
		t.Error("a picture without pixels was turned into one with some")
	}
}
