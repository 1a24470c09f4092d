// Package marks finds rows of graduations in a picture: Detect, from a pyramid to ruler.Rows.
//
// Package tiles says where marks may stand in even rows: groups, each with an axis and a pitch. The
// picture is resampled along a group's axis into a strip, t along and w across (strip.go); the band
// is the part of w where the shortest graduations lie (band.go), and their mean along it is the
// profile (profile.go), along which graduations are followed one by one (track.go). What else
// belongs to a row is measured where it was found: how long its graduations are, the ruler's long
// edges and its ends, the cells of a code, its face under a double flash.
package marks
