// Package scene keeps what lies behind the rulers, and says whether the camera moved: a Backdrop is
// the picture reduced, with what the rulers hide left out; Shift says how that of another frame
// lies against it: where it went, and how it turned, grew and leans.
package scene
