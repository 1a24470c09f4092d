package reach

// shapeDraws is from how many trips the box's shape is searched; more where few trips lie outside.
func shapeDraws(p float64) int { return int(min(max(400/(1-p), 1<<13), 1<<15)) }

// Box is the smallest box that holds a share p of the trips of a sample, its outlines, and how many
// further trips were drawn for it.
func (m *Model) Box(set *Sample, p float64, seed uint64) (r Box, drawn int) {
	find := m.Sample(shapeDraws(p), seed, 1)
	r, s := smallest(find, set, p)
	r.SideView, r.TopView = m.outlines(s, seed)
	return r, find.Total() + outlineDraws
}
