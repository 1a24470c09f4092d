// Package planprint says a plan in words, part by part, and draws its set to scale: from the side,
// from above, and with the camera and the heads about it.
//
// Its nouns: a Section is a part of the plan as lines; the set is drawn on panes, each a view with
// a scale of its own. It works nothing out that is not in the plan.
package planprint
