// Package integrity follows the structure of a picture's file to its end, before anything decodes
// it:
//
//	bytes of a file --Check--> Header (kind, size, where the EXIF block is) or a note
//
// Nouns: a Header is what the structure says of the picture; the note is why the file cannot be
// used, with the code of a refusal.
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
// picture: it is found by the directories, boxes or header that name it, never by a search, and
// followed to its end like any other JPEG. Kinds that are not read, HEIF among them, are refused by
// name.
//
// # EXIF
//
// The EXIF library is handed single fields that ExifFields found and checked: some whole blocks make
// it run for ever.
//
// # Sources
//
// JPEG: ITU-T T.81 (1992), Annex B. PNG: W3C PNG specification, chapters 5 and 11. TIFF: revision
// 6.0 (1992). EXIF tags: CIPA DC-008, by the names and numbers of exiftool's tag tables; these too
// for what makers add. CR3: ISO/IEC 14496-12.
package integrity
