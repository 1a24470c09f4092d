// Package coded is the coded ruler: where its graduations, cells and numerals stand (Layout), which
// of its cells are dark (Dark), and from the cells seen beside a row the place in that sequence that
// they stand in (Decode).
package coded
