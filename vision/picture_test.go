package vision

import "leadmark/frame"

// whole is a picture that was decoded whole.
func whole(g *gray) pyramid { return newPyramid(g, 1, g.w, g.h) }

// grayOfFile decodes a file whole.
func grayOfFile(f frame.Frame) (*gray, error) {
	p, err := new(memory).decode(f, 1, frame.MaxSide)
	if err != nil {
		return nil, err
	}
	return p.levels[0], nil
}
