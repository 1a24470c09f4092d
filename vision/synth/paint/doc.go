// Package paint is what drawn pictures are painted with: colours in linear light (RGB), noise that
// depends on a place and a seed alone, sizes drawn by chance, parts of a picture with their blur
// (a Layer), and the curve that makes code values of light.
package paint
