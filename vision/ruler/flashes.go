package ruler

// TwinRow is what a row of graduations shows of two flashes: its lines stand twice, at one pitch,
// the second time Moved graduations further on.
type TwinRow struct {
	Lines         []Mark  // the lines as the first flash shows them, counted from one of the longest
	Moved, MovedU float64 // graduations; positive towards rising T
	Gain          float64 // light of the second flash over that of the first
	Graduation    float64 // m, of the pattern that fits
	Rear, Lead    Step    // front ends by the first and by the second flash
	Apart         float64 // graduations from Rear to Lead, by the scale
	Score         float64 // nats for two combs over no lines, less what front ends and lines disagree by
}
