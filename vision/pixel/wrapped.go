package pixel

// wrapped says whether the header states another width than the data were made with: the rows then
// break at another place, so that none fits on the one above, and fit well with that width. What
// has edges along the rows in truth fits no better with another.
func (m mosaic) wrapped() bool {
	inside := m.inside()
	jump := m.jump(m.n)
	if jump < unfitting*inside+worthSeeing {
		return false
	}
	for n := 2; n <= m.n*(m.g.H/m.h)/2; n++ {
		if r := n % m.n; m.all%n > 0 || fitting*min(r, m.n-r) <= m.n || fitting*(m.jump(n)-inside) >= jump-inside {
			continue
		}
		if !m.repeats(n+n/2, jump/2) {
			return true
		}
	}
	return false
}

// repeats says whether a picture fits somewhere about n units further on as well.
func (m mosaic) repeats(n int, jump float64) bool {
	for k := range periods {
		if m.jump(n+k) < jump {
			return true
		}
	}
	return false
}

// jump is the mean step of the tone from the last line of each coding unit to the first of the one
// that lies n further on.
func (m mosaic) jump(n int) float64 {
	sum, count := 0, 0
	for i := 0; i+n < m.n*(m.g.H/m.h); i++ { // the lowest row may be cut
		sum += gap(m.tone(i%m.n*m.w, i/m.n*m.h+m.h-1), m.tone((i+n)%m.n*m.w, (i+n)/m.n*m.h))
		count++
	}
	return float64(sum) / float64(max(count, 1))
}

// inside is the mean step of the tone between two lines inside each coding unit.
func (m mosaic) inside() float64 {
	sum, count := 0, 0
	for y := (m.h - 1) / 4; y+1 < m.g.H; y += m.h {
		for x := 0; x < m.g.W; x += m.w {
			sum += gap(m.tone(x, y), m.tone(x, y+1))
			count++
		}
	}
	return float64(sum) / float64(max(count, 1))
}

// gap is by how much two tones differ.
func gap(a, b int) int { return max(a, b) - min(a, b) }
