// Package runs draws photographs of rulers that move through a light beam, with exact known
// truth, and writes whole calibration runs of them: frames, run.toml, shots.csv and truth.json.
// The tests use it, and so does the demonstration run. All of it is invented data.
//
// A Scene is one photograph: a pinhole Camera with a little radial distortion looks at a flat ruler
// (a Look) in a Pose on a Track, lit by a Flash, before a Backdrop. Render draws it and says where
// everything truly is (Truth). A RunSpec is a whole run; WriteRun draws it to a folder and returns
// RunTruth, the content of truth.json. DemoRun and TwelveRuns give ready specifications.
//
// Coordinates. Space is the camera's: x to the right and y down in the picture as displayed, z away
// from the camera, metres. On the ruler, u is the reading in metres (it grows from the front end
// backwards) and v the distance from the long axis, such that (u, v) = (right, down) shows numerals
// the right way round. Pixels are those of formats.md: (0, 0) is the centre of the top-left pixel.
//
// The picture is made in linear light: the ruler's face is mapped back from each pixel and its
// marks averaged over the pixel's area, blurred by the lens and by the travel during the flash,
// laid over the backdrop, then darkened by vignetting, given shot and read noise, the sRGB curve
// (IEC 61966-2-1) and JPEG. Truth holds at the instant by which half the flash's light is given
// off, as formats.md counts advances.
//
// The package shares no code with the one that measures pictures, so that an error in one cannot
// hide in the other.
package runs
