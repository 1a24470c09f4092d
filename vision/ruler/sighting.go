package ruler

import "leadmark/fit/note"

// Sighting is all that was seen of rulers in one picture, before anything is read off it.
// Places are in pixels of the picture as displayed.
type Sighting struct {
	Width, Height int
	Rows          []Row     // rows of graduations, the best first
	Refusal       note.Note // why nothing was found; zero when Rows is not empty
	Symbol        Symbol    // a QR symbol, such as a slate's
	Backdrop      Backdrop  // the scene behind the rulers
	Clips         Clips     // for people to look at
}

// Backdrop is a coarse picture of the scene, by which it shows whether the camera was moved: tones
// row by row, one place Scale px of the picture wide, and which of them a ruler may hide.
type Backdrop struct {
	Width, Height int
	Scale         float64
	Tone          []uint8
	Hidden        []bool
}

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

// Symbol is the QR symbol (ISO/IEC 18004) seen in a picture, such as a slate's.
type Symbol struct {
	Seen bool   // its finder patterns were found
	Text string // what it says; "" where it could not be read
}
