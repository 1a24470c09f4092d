package words

// brokenFile is what is wrong with the structure of a picture's file.
func brokenFile() map[string]say {
	return map[string]say{
		"damaged/inside-raw": as("of the JPEG inside the %s file: %s"),
		"damaged/jpeg-amount": as("the JPEG has %d bytes of picture data where at least %d " +
			"belong; copy it from the card again"),
		"damaged/jpeg-colour":          as("a scan of the JPEG names a colour that the picture does not have"),
		"damaged/jpeg-header":          as("the JPEG's frame header is too short"),
		"damaged/jpeg-headless":        as("the JPEG ends before its frame header"),
		"damaged/jpeg-marker":          as("byte %d should begin a JPEG marker and does not"),
		"damaged/jpeg-misplaced":       as("JPEG marker FF%02X at byte %d cannot stand there"),
		"damaged/jpeg-restart":         as("a restart marker of the JPEG is out of order at byte %d"),
		"damaged/jpeg-restarts":        as("the JPEG has %d restart markers where %d belong"),
		"damaged/jpeg-sampling":        as("the JPEG's frame header states impossible sampling factors"),
		"damaged/jpeg-scan":            as("a scan header of the JPEG is broken"),
		"damaged/jpeg-segment":         as("the JPEG segment at byte %d states a length of %d"),
		"damaged/jpeg-table":           as("a Huffman table of the JPEG is broken"),
		"damaged/jpeg-table-short":     as("a Huffman table of the JPEG is too short"),
		"damaged/jpeg-twice":           as("the JPEG has a second frame header"),
		"damaged/png-empty":            as("the PNG holds no picture data"),
		"damaged/png-header":           as("the PNG's header has %d bytes instead of 13"),
		"damaged/png-kind":             as("the PNG's header states an impossible kind of picture"),
		"damaged/png-length":           as("a chunk length of the PNG at byte %d is impossible"),
		"damaged/png-name":             as("a chunk name of the PNG at byte %d is not made of letters"),
		"damaged/png-order":            as("the PNG's header is not where it belongs"),
		"damaged/png-sum":              as("the check sum of the PNG's %s chunk at byte %d is wrong"),
		"damaged/size":                 as("the header states a picture of %d x %d px"),
		"damaged/tiff-pieces":          as("the TIFF lists %d pieces of picture where %d belong"),
		"exif-doubt/block":             as("the EXIF block cannot be read: %s"),
		"exif-doubt/directory-cut":     as("a directory runs past its end"),
		"exif-doubt/directory-outside": as("a directory lies outside it"),
		"exif-doubt/main-directory":    as("the place of its main directory is not a number"),
		"exif-doubt/order":             as("it does not begin with a byte-order mark"),
		"exif-doubt/part":              as("the EXIF block is broken in part: %s"),
		"exif-doubt/tag":               as("the value of tag 0x%04X is broken"),
		"truncated/cr3": as("the CR3 file is cut off before its description of the picture " +
			"ends; copy it from the card again"),
		"truncated/inside-raw": as("of the JPEG inside the %s file: %s"),
		"truncated/jpeg": as("the JPEG stops before its end-of-image marker; copy it from the " +
			"card again"),
		"truncated/jpeg-scans": as("the JPEG ends before its last scans, so that it is coarse " +
			"or lacks a colour; copy it from the card again"),
		"truncated/png":  as("the PNG stops before its end chunk; copy it from the card again"),
		"truncated/raf":  as("the RAF file is cut off inside its header; copy it from the card again"),
		"truncated/raw":  as("the %s file names places beyond its own end; copy it from the card again"),
		"truncated/tiff": as("the TIFF names places beyond its own end; copy it from the card again"),
	}
}
