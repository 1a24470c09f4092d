// Package photo draws photographs of rulers that move through a light beam, with exact known truth.
//
// A Scene is one photograph: a pinhole Camera with a little radial distortion looks at a flat ruler
// (a looks.Look) in a Pose on a Track, lit by a Flash, before a Backdrop. Render draws it and says
// where everything truly is (Truth); a Set keeps what stays the same from frame to frame of a run.
// Legible says whether a person could read the picture, by the scene alone.
//
// Space is the camera's: x to the right and y down in the picture as displayed, z away from the
// camera, metres. Pixels are those of formats.md: (0, 0) is the centre of the top-left pixel.
//
// The picture is made in linear light: the ruler's face is mapped back from each pixel and its
// marks averaged over the pixel's area, blurred by the lens and by the travel during the flash,
// laid over the backdrop, then darkened by vignetting, given shot and read noise and the sRGB curve
// (IEC 61966-2-1). Truth holds at the instant by which half the flash's light is given off, as
// formats.md counts advances.
//
// The package shares no code with the ones that measure pictures, so that an error in one cannot
// hide in the other.
package photo
