// Package shoot judges the frames of a real shoot against the plan: whether the animal is whole,
// sharp, inside the reach; whether the plan held; and what the frames teach of the subject's speed
// and heading.
//
// It is given the function that looks at a picture, and itself knows no pixels: frames -> sightings
// -> leads -> learned subject. Lengths in metres, times in seconds, angles in radians; places in
// pixels as displayed.
package shoot
