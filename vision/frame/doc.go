// Package frame lists the photographs of a folder and says what each file tells of itself: its
// kind, its size as displayed, and how it was taken (EXIF). It decodes no pixels.
//
// It is the first step of the flow: frames -> marks -> readings -> observations -> estimate.
//
// # Nouns
//
// A Frame is one photograph that can be decoded. A Refusal is a file with a picture's name that
// cannot, with a short stable code and a sentence. A Difference is a setting that is not the same
// in all frames: the lag belongs to one set-up.
//
// # What is checked
//
// Decoders of pixels may end the process, or fill a cut picture with grey and say nothing, so a
// file is looked through here first: its size is bounded (MaxBytes, MaxPixels, MaxSide), and its
// structure followed to its end (ITU-T T.81 markers, PNG chunks with their check sums, TIFF strips
// and tiles). A cut file is always found. Of bytes overwritten inside the compressed data, a PNG's
// are found by its check sums. A JPEG has none: they are found when they make a marker that cannot
// stand there, lose a restart marker, or leave less data than the smallest code for that many
// blocks; a few changed bytes that do none of this cannot be seen here, nor can overwritten data in
// a TIFF.
//
// # RAW files
//
// Of a RAW file (CR2, CR3, NEF, NRW, ARW, DNG, RAF, ORF, RW2, PEF) the largest embedded JPEG is the
// picture: it is found by the directories, boxes or header that name it, never by a search,
// followed to its end like any other JPEG, and displayed as the RAW file's orientation says. What
// the RAW file's own EXIF block does not say is taken from the JPEG's. Kinds that are not read,
// HEIF among them, are refused by name.
//
// # Sources
//
// JPEG: ITU-T T.81 (1992), Annex B. PNG: W3C PNG specification, chapters 5 and 11. TIFF: revision
// 6.0 (1992). EXIF tags: CIPA DC-008, by the names and numbers of exiftool's tag tables; these too
// for what makers add. CR3: ISO/IEC 14496-12.
//
// # Codes
//
// The refusals' codes: not-a-picture, unsupported-format, empty, truncated, damaged, too-large,
// unreadable, no-preview.
package frame
