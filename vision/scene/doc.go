// Package scene keeps what lies behind the rulers, and says whether the camera moved: a Backdrop is
// the picture reduced, with what the rulers hide left out; Shift says how far that of another frame
// lies from it.
package scene
