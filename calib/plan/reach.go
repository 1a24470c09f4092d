package plan

// Reach is the box that holds the whole body at the flash with a probability.
type Reach struct {
	Probability       float64
	ProbabilityU      float64 // standard error of the drawing
	Along, Up, Depth  [2]float64
	EdgeU             float64 // m, standard error of the edge that is known least
	SideView, TopView [][2]float64
}

// shapeDraws is from how many trips the box's shape is searched; more where few trips lie outside.
func shapeDraws(p float64) int { return int(min(max(400/(1-p), 1<<13), 1<<15)) }

// box is the smallest box that holds a share p of the trips of a sample, its outlines, and how many
// further trips were drawn for it.
func (m *model) box(set *sample, p float64, seed uint64) (r Reach, drawn int) {
	find := m.draws(shapeDraws(p), seed, 1)
	r, s := smallest(find, set, p)
	r.SideView, r.TopView = m.outlines(s, seed)
	return r, find.total() + outlineDraws
}
