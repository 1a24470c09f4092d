// Package texture draws surfaces as fields: a colour at every place. Backdrops are what may lie
// behind a ruler, many of them with lines as even as graduations; Decoys are pictures of even
// things that are no rulers.
package texture
