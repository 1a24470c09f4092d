// Package input reads what people write, strictly: TOML files and CSV tables whose unknown keys,
// wrong kinds and values out of range are told with file, line, the nearest known key and what to
// do, and flags that stand in for keys.
//
// A file is mirrored by a struct whose fields carry tags: toml, the key; flag, the flag that may
// stand for it; help, what it means. [DecodeStrict] fills it, [Overrides] puts flags in the place
// of keys, a [Source] checks values and knows where each was stated.
//
// What a person got wrong is an *[Error]; input that is in order but gives no result is a
// *[NoResult].
package input
