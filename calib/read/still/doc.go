// Package still tells the rows of rulers that lie still in the scene from those of the one that
// moves.
//
// Every place at which a row stands in several frames is judged by how likely the frames are if the
// ruler there lies still, and how likely if it is the one that moves, come to rest there again:
//
//   - a ruler that lies still is there whatever was done; one that moves is elsewhere after a fall
//     from another height, or at another speed or delay, but by chance
//   - a ruler that lies still is in all frames, but those in which it is not found; one that moves
//     ends elsewhere as often as it likes
//   - beside a ruler that lies still the one that moves is seen, now here, now there; beside the one
//     that moves, another that does so is seen by mistake alone
//
// How often a steady rig's ruler comes to rest in one place is not known, and says nothing. A frame
// in which a ruler may be hidden in part, or which was not searched where it lies, says nothing
// either.
package still
