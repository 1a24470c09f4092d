package picture

import (
	"bytes"
	"context"
	"fmt"
	"image"
	_ "image/jpeg" // decoders that image.Decode finds
	_ "image/png"

	_ "golang.org/x/image/tiff"

	"leadmark/calib/words"
	"leadmark/vision/frame"
)

// maxPicture bounds what is decoded for show, in pixels.
const maxPicture = 200e6

// Load decodes a frame for show: as displayed, averaged over squares of whole pixels so
// that its long side comes near maxSide from above.
func Load(ctx context.Context, f frame.Frame, maxSide int) (image.Image, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if float64(f.StoredWidth)*float64(f.StoredHeight) > maxPicture {
		return nil, fmt.Errorf("a picture of %d x %d pixels is not shown", f.StoredWidth, f.StoredHeight)
	}
	data, err := f.Read(nil)
	if err != nil {
		return nil, words.Err(err)
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("decoding %s: %w", f.Name, err)
	}
	b := img.Bounds()
	k := max(max(b.Dx(), b.Dy())/max(maxSide, 1), 1)
	return displayed(shrink(img, k), f.Orientation), nil
}
