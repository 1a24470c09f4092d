package vision

import (
	"errors"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// slateSide bounds the picture in which a QR symbol is looked for, px along its longer side: a
// slate fills a good part of it. At this size the search takes some 5 ms.
const slateSide = 1600

// findSymbol reads a QR symbol (ISO/IEC 18004) at the first level that is small enough, else, where
// noise or blur hide it there, at the one after; where it is seen but too small to be read at
// either, at the one before. Not closely, it begins with the one after and goes on only where
// something is seen there.
func findSymbol(p pixel.Pyramid, closely bool) ruler.Symbol {
	level := 0
	for level < len(p.Levels)-1 && max(p.Levels[level].W, p.Levels[level].H) > slateSide {
		level++
	}
	var s ruler.Symbol
	if !closely && level+1 < len(p.Levels) && !decodeSymbol(p.Levels[level+1]).Seen {
		return s
	}
	for _, k := range []int{level, level + 1, level - 1} {
		if k < 0 || k >= len(p.Levels) || k < level && !s.Seen {
			continue
		}
		found := decodeSymbol(p.Levels[k])
		if found.Text != "" {
			return found
		}
		s.Seen = s.Seen || found.Seen
	}
	return s
}

// decodeSymbol reads the symbol of one picture. A picture without three finder patterns in
// their places has none; one that has them but does not decode is seen and not read.
func decodeSymbol(g *pixel.Gray) (s ruler.Symbol) {
	defer func() {
		if recover() != nil { // the decoder was not made for pictures nobody vouches for
			s = ruler.Symbol{}
		}
	}()
	source, err := gozxing.NewPlanarYUVLuminanceSource(g.Pix, g.W, g.H, 0, 0, g.W, g.H, false)
	if err != nil {
		return s
	}
	bitmap, err := gozxing.NewBinaryBitmap(gozxing.NewHybridBinarizer(source))
	if err != nil {
		return s
	}
	result, err := qrcode.NewQRCodeReader().Decode(bitmap, nil)
	if err == nil {
		return ruler.Symbol{Seen: true, Text: result.GetText()}
	}
	var none gozxing.NotFoundException
	return ruler.Symbol{Seen: !errors.As(err, &none)}
}
