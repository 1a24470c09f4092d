package fit

import "math"

// designer chooses settings for shots to come on the model as fitted.
type designer struct {
	run    Run // the shots there are
	weight []float64
	theta  []float64
	t      float64 // s^2, spread squared
	shrink float64
	df     float64 // of the spread; 0 when assumed
	p      int
	base   []float64 // information of the shots there are, and of what is known beforehand
	cand   []candidate
	memo   map[int][]int
	stand  *Shot // uncertainties of a first run's shots; nil: those of the run
}

// candidate is a setting that could be shot. S shots' worth of precision at it give the information x x' S/(1 + z2 S).
type candidate struct {
	Batch
	shot  Shot
	x     []float64
	d, z2 float64 // m^2, variance of one shot; of the error its height shares
	had   float64 // 1/m^2, precision of the shots already made at this very setting
}

// designer prepares the fitted run.
func (s *solution) designer(goal Goal) *designer {
	d := &designer{run: s.run, weight: s.weight, theta: s.theta, t: s.best.t, shrink: s.best.shrink}
	d.prepare(s.settings(goal))
	return d
}

// prepare linearises the candidates and sums up what there is.
func (d *designer) prepare(settings []Batch) {
	d.memo = map[int][]int{}
	run := d.run
	run.Shots = append([]Shot(nil), run.Shots...)
	weight := append([]float64(nil), d.weight...)
	typical := d.typical()
	for _, b := range settings {
		shot := typical
		shot.Drop, shot.Speed, shot.Delay, shot.Group = b.Drop, b.Speed, b.Delay, b.Group
		d.cand = append(d.cand, candidate{Batch: b, shot: shot})
		run.Shots, weight = append(run.Shots, shot), append(weight, 0)
	}
	l := newLayout(run)
	m := l.linearise(d.theta, weight, d.t, nil)
	d.p = l.p
	n := len(d.run.Shots)
	variance := func(i int) float64 { return d.shrink*m.known2[i] + d.t*m.slope2[i] }
	for k := range d.cand {
		c := &d.cand[k]
		i := n + k
		c.x, c.d, c.z2 = m.x[i*l.p:(i+1)*l.p], variance(i), m.z[i]*m.z[i]
		if c.z2 == 0 || !d.alone(c.Batch) {
			continue
		}
		for j := range d.run.Shots { // the same height's error is the same: its shots share it with the new ones
			if s := d.run.Shots[j]; s.Drop == c.Drop && weight[j] > 0 {
				c.had += weight[j] / variance(j)
				weight[j] = 0
			}
		}
	}
	rest := make([]float64, n+len(d.cand))
	for i := 0; i < n; i++ {
		if weight[i] > 0 {
			rest[i] = variance(i) / weight[i]
		}
	}
	d.base = m.information(rest)
}

// alone tells whether all shots of a height have the candidate's delay.
func (d *designer) alone(b Batch) bool {
	for _, s := range d.run.Shots {
		if s.Drop == b.Drop && s.Delay != b.Delay {
			return false
		}
	}
	return true
}

// typical is a shot with the uncertainties usual in the run: root mean squares over the shots that count.
func (d *designer) typical() Shot {
	if d.stand != nil {
		return *d.stand
	}
	var u, h, hs, v, n, nh, nv float64
	for i, s := range d.run.Shots {
		if d.weight[i] <= 0 {
			continue
		}
		u, n = u+s.AdvanceU*s.AdvanceU, n+1
		if s.Drop > 0 {
			h, hs, nh = h+s.DropU*s.DropU, hs+s.DropShotU*s.DropShotU, nh+1
		}
		if s.Speed > 0 {
			v, nv = v+s.SpeedU*s.SpeedU, nv+1
		}
	}
	mean := func(sum, n float64) float64 { return math.Sqrt(sum / math.Max(n, 1)) }
	return Shot{AdvanceU: mean(u, n), DropU: mean(h, nh), DropShotU: mean(hs, nh), SpeedU: mean(v, nv)}
}

// variance of the lag with counts more shots; faint traces of every setting keep the matrix invertible at the start.
func (d *designer) variance(counts []int) float64 {
	const faint = 1e-7
	p := d.p
	a := append([]float64(nil), d.base...)
	for k, c := range d.cand {
		s := c.had + (float64(counts[k])+faint)/c.d
		w := s / (1 + c.z2*s)
		for i, xi := range c.x {
			if xi == 0 {
				continue
			}
			for j, xj := range c.x {
				a[i*p+j] += w * xi * xj
			}
		}
	}
	return lagVariance(a, p)
}

// lagVariance is element (0, 0) of the inverse, by elimination from the last unknown up; unknowns nothing is known of are passed over.
func lagVariance(a []float64, p int) float64 {
	for k := p - 1; k > 0; k-- {
		pivot := a[k*p+k]
		if !(pivot > 0) {
			continue
		}
		for i := 0; i < k; i++ {
			f := a[i*p+k] / pivot
			for j := 0; j < k; j++ {
				a[i*p+j] -= f * a[k*p+j]
			}
		}
	}
	if !(a[0] > 0) {
		return math.Inf(1)
	}
	return 1 / a[0]
}

// best is the number of shots at each candidate for a total of n.
func (d *designer) best(n int) []int {
	if counts, ok := d.memo[n]; ok {
		return counts
	}
	allowed := make([]bool, len(d.cand))
	for k := range allowed {
		allowed[k] = true
	}
	counts, v := d.exchange(n, allowed)
	for {
		fewest, used := -1, 0
		for k, c := range counts {
			if c > 0 {
				used++
			}
			if c > 0 && (fewest < 0 || c < counts[fewest]) {
				fewest = k
			}
		}
		if fewest < 0 {
			break
		}
		allowed[fewest] = false
		fewer, more := d.exchange(n, allowed)
		if fewer == nil || used <= mostSettings && !(more <= v*fewSettings*fewSettings) {
			break
		}
		if counts = fewer; used > mostSettings {
			v = more
		}
	}
	d.memo[n] = counts
	return counts
}

// exchange adds shots one by one where they help most, then moves single shots while that helps.
func (d *designer) exchange(n int, allowed []bool) ([]int, float64) {
	counts := make([]int, len(d.cand))
	v := math.Inf(1)
	for left := n; left > 0; {
		step := 1
		if left > 60 { // in bulk first: the exchange below puts right what this misses
			step = left / 30
		}
		at, least := -1, math.Inf(1)
		for k := range counts {
			if !allowed[k] {
				continue
			}
			counts[k] += step
			if u := d.variance(counts); u < least {
				at, least = k, u
			}
			counts[k] -= step
		}
		if at < 0 {
			return nil, v
		}
		counts[at] += step
		left, v = left-step, least
	}
	for _, size := range []int{max(n/10, 1), 1} {
		v = d.move(counts, allowed, size, v)
	}
	return counts, v
}

// move takes size shots at a time from one setting to another while the variance falls.
func (d *designer) move(counts []int, allowed []bool, size int, v float64) float64 {
	for round := 0; round < 100; round++ {
		from, to, least := -1, -1, v*(1-1e-9)
		for i := range counts {
			if counts[i] < size {
				continue
			}
			counts[i] -= size
			for j := range counts {
				if j == i || !allowed[j] {
					continue
				}
				counts[j] += size
				if u := d.variance(counts); u < least {
					from, to, least = i, j, u
				}
				counts[j] -= size
			}
			counts[i] += size
		}
		if from < 0 {
			break
		}
		counts[from] -= size
		counts[to] += size
		v = least
	}
	return v
}

// enlarged is the fit the run with counts more shots would give at the same spread.
func (d *designer) enlarged(counts []int) (*linear, point, bool) {
	run := d.run
	run.Shots = append([]Shot(nil), run.Shots...)
	weight := append([]float64(nil), d.weight...)
	for k, n := range counts {
		for ; n > 0; n-- {
			run.Shots, weight = append(run.Shots, d.cand[k].shot), append(weight, 1)
		}
	}
	m := newLayout(run).linearise(d.theta, weight, d.t, nil)
	if !m.estimable(colLag) || m.spare() < 1 {
		return m, point{}, false
	}
	y := math.Log(d.shrink)
	if d.t > 0 {
		y = math.Log1p(d.t / m.unit)
	}
	pt := m.at(y)
	return m, pt, pt.ok && pt.info > 0
}

// promise is the lag's standard uncertainty as Lag would report it then, Kenward and Roger's addition included; more is the
// margin it is to be held with.
func (d *designer) promise(counts []int) (u, more float64) {
	_, pt, ok := d.enlarged(counts)
	if !ok {
		return math.Inf(1), 1
	}
	return math.Sqrt(pt.cov[0] + math.Max(pt.adjust[0], 0)/pt.info), margin(2 * pt.info)
}

// limit is the source that leaves most of the promised variance.
func (d *designer) limit(counts []int) string {
	m, pt, ok := d.enlarged(counts)
	if !ok {
		return ""
	}
	s := &solution{linear: m, best: pt}
	b := s.budget(colLag, "lag", "s", &Estimate{})
	bySource, most := map[string]float64{}, ""
	for _, l := range b.Lines {
		bySource[l.Source] += l.Share
		if most == "" || bySource[l.Source] > bySource[most] {
			most = l.Source
		}
	}
	return most
}
