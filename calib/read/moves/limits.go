package moves

// The numbers by which moves of the camera are told, set by scripts/turnstudy where no other is named.
const (
	// leastMove is the least shift of the still scene, px, that counts as a move of the camera: what a
	// reading is good to.
	leastMove = 0.25
	// moveSure is how many standard uncertainties a shift must be to count, and surerMove where one
	// frame alone shows it.
	moveSure  = 6
	surerMove = 15
	// leastWarp, px, and warpSure standard uncertainties are what parts of the picture may move
	// otherwise than a turned camera's do.
	leastWarp = 0.8
	warpSure  = 4

	// What the backdrop cannot know. A tripod turns about its head, which carries the lens aside, and
	// then the backdrop moves less than the ruler before it. By how much depends on distances that
	// nobody states; these are taken for them as standard deviations, common practice, no source.

	// head is how far behind and below the lens the tripod's head is, m.
	head = 0.06
	// farther is by what part of its distance the backdrop stands behind the track.
	farther = 0.15
	// focal is the image distance in halves of the picture's diagonal: a lens of 60 mm before a sensor
	// of 24 mm by 16 mm, or of 100 mm before one of 36 mm by 24 mm.
	focal = 4.4
	// nearer is by what part of what it turns a turned camera's lens comes nearer, of the distance.
	nearer = 0.1
)
