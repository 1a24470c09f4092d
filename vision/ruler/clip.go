package ruler

// Clip is a small grey picture, as JPEG, of the part of a frame that shows the rulers found, or of
// all of it where none was found. It is made while the frame is decoded anyway, for people to look
// at.
type Clip struct {
	Left, Top     float64 // px of the frame as displayed: the left and upper edge of the clip's first pixel
	Scale         float64 // px of the frame in one of the clip
	Width, Height int     // px of the clip
	JPEG          []byte
}

// Clips are a frame's clip to look into and one for an overview. A clip without JPEG is none.
type Clips struct{ Large, Small Clip }
