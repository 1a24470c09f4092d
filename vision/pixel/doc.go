// Package pixel holds pictures as pixels: it decodes a frame's file to a grey pyramid or to parts
// in colour, as displayed, and says where a JPEG's data are damaged.
//
// A Gray is one channel, a Colour three; a Pyramid is a picture and its halves; a Photo is a frame
// opened in colour, of which parts are asked for; a Decoder makes both and keeps their memory for
// the next. Tones are code values 0 to 255; light is what they stand for, 0 to 1.
//
// What takes a library in C stands behind one interface, Library. Package native has OpenCV and
// libjpeg-turbo behind it; the commands pass it in, and no other package links them.
package pixel
