// Package animals draws invented photographs of small animals leaving an exit, with their truth:
// articulated textured bees, hoppers and runners before plain backdrops in uneven light, with
// shadow, spill, noise, motion blur and defocus.
package animals
