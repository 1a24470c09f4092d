package ruler

// TwinRow is what a row of graduations shows of two flashes: its lines stand twice, at one pitch,
// the second time Moved graduations further on. Indices count from a line of the longest class.
type TwinRow struct {
	A, B, C, Mid, Half float64       // first flash: t = (A + B m) / (1 + C m), m = (index - Mid) / Half
	Cov                [3][3]float64 // of A, B, C
	Residual           float64       // px, of one line's place as the residual lets expect
	Moved, MovedU      float64       // graduations; positive towards rising T
	Gain               float64       // light of the second flash over that of the first
	Graduation         float64       // m, of the pattern that fits
	Rear, Lead         Step          // front ends by the first and by the second flash
	Apart              float64       // graduations from Rear to Lead, by the scale
	First, Last        int           // indices of the lines that both flashes show
	Evidence           float64       // log-likelihood of two combs over one

	Score float64 // Evidence over all that both flashes show, less what front ends and lines disagree by
}

// Index is the place of x px along the axis on the first flash's scale.
func (t *TwinRow) Index(x float64) float64 { return t.Mid + t.Half*(x-t.A)/(t.B-t.C*x) }
