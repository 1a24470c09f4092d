// Package patterns draws regular things that are no rulers, each made anew with sizes drawn by
// chance: how such things look is common practice, no source. A kind is one of Kinds; At poses it
// before a camera, and its View's Draw makes the picture.
package patterns
