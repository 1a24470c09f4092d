// Package collage makes frames and runs of photographs of real rulers: the ruler is cut out, laid
// flat by its graduations, put on a track over parts of other photographs, moved, blurred along its
// way and taken anew by package camera.
//
// What is true comes from the photographs' truth.json alone: where graduations lie, and what they
// read. Outlines and the parts that may serve as a backdrop were drawn by eye; an end of an outline
// is the new ruler's end, so that it is known exactly wherever the old one lay.
//
// A graduation counts by the rule of package crops, its contrast being that of the photograph. The
// front end counts by that rule too, by what lies on its two sides before the picture is taken.
package collage
