package marks

import (
	"math"
	"sort"

	"leadmark/vision/marks/tiles"
	"leadmark/vision/ruler/scale"
)

// tracker follows the graduations of a profile one by one from where they are clearest.
type tracker struct {
	tr          *profile
	pitch       func(t float64) float64
	graduations []graduation // in order of index
}

// track finds the row of marks of a profile; nil where there is none.
func track(tr *profile, g *tiles.Group) []graduation {
	k := &tracker{tr: tr, pitch: g.Pitch}
	t, pitch, ok := k.seed(g)
	if !ok {
		return nil
	}
	k.start(t, pitch)
	k.extend(+1)
	k.extend(-1)
	k.prune()
	return k.graduations
}

// seed finds where a comb at about the group's pitch answers best.
func (k *tracker) seed(g *tiles.Group) (t, pitch float64, ok bool) {
	best := 0.0
	for c := g.T0; c <= g.T1; c += combTeeth / 2 * g.Pitch(c) {
		for f := seedLeast; f < seedMost; f += seedStep {
			p := f * g.Pitch(c)
			for ph := 0.0; ph < 1; ph += seedPhase {
				if v := k.comb(c+ph*p, p); v > best {
					t, pitch, best, ok = c+ph*p, p, v, true
				}
			}
		}
	}
	return t, pitch, ok
}

// comb is the mean of the profile at the teeth less that between them.
func (k *tracker) comb(t, pitch float64) float64 {
	var on, off float64
	for n := -combTeeth; n <= combTeeth; n++ {
		on += k.value(t + float64(n)*pitch)
		off += k.value(t + (float64(n)+0.5)*pitch)
	}
	return (on - off) / (2*combTeeth + 1)
}

func (k *tracker) value(t float64) float64 {
	i := int(math.Round(k.tr.s.col(t)))
	if i < 0 || i >= len(k.tr.smooth) || k.tr.smooth[i] != k.tr.smooth[i] {
		return 0
	}
	return k.tr.smooth[i]
}

// start takes the teeth of the seed's comb that stand on marks.
func (k *tracker) start(t, pitch float64) {
	for n := -combTeeth; n <= combTeeth; n++ {
		if at, h, ok := k.tr.top(t+float64(n)*pitch, catch*pitch); ok && h > 0 {
			k.graduations = append(k.graduations, graduation{n, at, h})
		}
	}
	k.graduations = strong(k.graduations)
}

// strong drops graduations far below the median height.
func strong(graduations []graduation) []graduation {
	floor := weakestMark * medianHeight(graduations)
	out := graduations[:0]
	for _, q := range graduations {
		if q.height >= floor {
			out = append(out, q)
		}
	}
	return out
}

// extend follows the marks one way until too many in a row are missing.
func (k *tracker) extend(way int) {
	missing := 0
	for missing <= maxMissing && len(k.graduations) >= fewestTracked {
		end := k.end(way)
		n := end.index + way*(missing+1)
		t, pitch := k.predict(n, way)
		if c := k.tr.s.col(t); c < 0 || c > float64(k.tr.s.nt) || pitch <= 0 {
			return
		}
		at, h, ok := k.tr.top(t, catch*pitch)
		if !ok || h < weakestMark*k.localHeight(way) || h < clearOfNoise*k.filteredNoise() {
			missing++
			continue
		}
		missing = 0
		k.add(graduation{n, at, h}, way)
	}
}

func (k *tracker) filteredNoise() float64 {
	return k.tr.noise / math.Sqrt(2*math.Sqrt(math.Pi)*k.tr.sigma)
}

func (k *tracker) end(way int) graduation {
	if way > 0 {
		return k.graduations[len(k.graduations)-1]
	}
	return k.graduations[0]
}

func (k *tracker) add(q graduation, way int) {
	if way > 0 {
		k.graduations = append(k.graduations, q)
		return
	}
	k.graduations = append([]graduation{q}, k.graduations...)
}

// recent returns the last few graduations of one end.
func (k *tracker) recent(way, n int) []graduation {
	if len(k.graduations) <= n {
		return k.graduations
	}
	if way > 0 {
		return k.graduations[len(k.graduations)-n:]
	}
	return k.graduations[:n]
}

func (k *tracker) localHeight(way int) float64 { return medianHeight(k.recent(way, heightMarks)) }

// predict places mark n from the last few graduations of an end: a straight line, bent where there
// are enough of them to tell a change of pitch.
func (k *tracker) predict(n, way int) (t, pitch float64) {
	near := withoutOdd(k.recent(way, lineMarks))
	a, b := lineThrough(near)
	t = a + b*float64(n)
	if far := k.recent(way, bendMarks); len(far) >= fewestBend {
		mid := len(far) / 2
		_, b0 := lineThrough(far[:mid])
		_, b1 := lineThrough(far[mid:])
		bend := (b1 - b0) / (meanIndex(far[mid:]) - meanIndex(far[:mid]))
		d := float64(n) - meanIndex(near)
		t += bend * d * d / 2
	}
	return t, b
}

// withoutOdd leaves out the graduation that lies furthest from where the others put it, where that
// is further than graduations stray: the edge of something that hides a few may be taken for one,
// and would lead astray.
func withoutOdd(graduations []graduation) []graduation {
	a, b := lineThrough(graduations)
	m, sxx := meanIndex(graduations), 0.0
	for _, q := range graduations {
		sxx += (float64(q.index) - m) * (float64(q.index) - m)
	}
	odd, worst := -1, stray*math.Abs(b)
	for i, q := range graduations {
		x := float64(q.index) - m
		leverage := 1/float64(len(graduations)) + x*x/sxx
		// Its residual from the line through the others.
		if d := math.Abs(q.t-a-b*float64(q.index)) / (1 - leverage); d > worst {
			odd, worst = i, d
		}
	}
	if odd < 0 {
		return graduations
	}
	return append(append([]graduation(nil), graduations[:odd]...), graduations[odd+1:]...)
}

// prune cuts off stray ends: beyond a gap, few marks prove nothing.
func (k *tracker) prune() {
	sort.Slice(k.graduations, func(a, b int) bool { return k.graduations[a].index < k.graduations[b].index })
	for {
		i := k.strayEnd()
		if i < 0 {
			return
		}
		if i >= len(k.graduations)/2 {
			k.graduations = k.graduations[:i]
		} else {
			k.graduations = k.graduations[i:]
		}
	}
}

// strayEnd returns where to cut, or -1.
func (k *tracker) strayEnd() int {
	n := len(k.graduations)
	for i := 1; i < n; i++ {
		gap := k.graduations[i].index - k.graduations[i-1].index
		if gap < strayGap {
			continue
		}
		if gap == scale.Ten && tensAbout(k.graduations, i) >= scale.FewestTens {
			continue
		}
		need := max(fewestStray, gap)
		if i < need && i <= n-i {
			return i
		}
		if n-i < need && n-i < i {
			return i
		}
	}
	return -1
}

// tensAbout counts the steps of ten in a row about graduation i: past its first part a scale may
// carry only its tens.
func tensAbout(graduations []graduation, i int) int {
	ten := func(j int) bool {
		return j >= 1 && j < len(graduations) && graduations[j].index-graduations[j-1].index == scale.Ten
	}
	n := 0
	for j := i; ten(j); j++ {
		n++
	}
	for j := i - 1; ten(j); j-- {
		n++
	}
	return n
}
