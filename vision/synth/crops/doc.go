// Package crops draws frames of rulers as a camera takes them, cut out along the track, with
// what spoils them in life: a real sensor's pictures, things that cover the ruler, glare, worn
// print, and backdrops with lines where the ruler ends.
//
// A ruler lies in its own plane: p mm from its front end, q mm from one long edge. A Scene is all
// that a picture shows; its Truth and whether it can be read are known before it is drawn.
//
// The rule of what is readable (Scene.Truth). A graduation counts where it is in the picture by 3 px, whole,
// uncovered over its shortest length and not washed out, where its light is 0.008 of white or more,
// its pitch 4 px or more and the blur along it at most 0.3 of that, where the comb of graduations
// stands out by 5 % of the ruler's light, and by ten times the noise of the picture averaged over one
// graduation's length. A scale is readable where 25 graduations count, twelve of them
// side by side, two of the longest among them. The front end is readable where it is in the picture
// with 12 px beyond it, where 60 % of the ruler's width is uncovered there, and where on these the
// light changes by 15 % of the brighter side and by eight times the noise over the ruler's width,
// the backdrop's own changes left out.
package crops
