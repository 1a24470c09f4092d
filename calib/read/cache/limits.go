package cache

import "time"

// What bounds the cache: kept input safe and memory small, whatever lies in its folder.
const (
	// mostEntry bounds an entry, bytes: the decoder may make 240, a row, of each one that it is
	// given. What is seen in a frame takes some 70 kB.
	mostEntry = 512 << 10
	// mostClips bounds an entry of pictures, bytes, which are decoded to what they take.
	mostClips = 16 << 20
	// atHand is how many sightings are kept at hand: tens of kilobytes each.
	atHand = 200
	// unused is how old an entry must be to be forgotten where it was not asked for: another process
	// may have just made it.
	unused = time.Hour
)
