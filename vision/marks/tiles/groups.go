package tiles

import (
	"math"
	"sort"

	"leadmark/vision/ruler"
)

// Group is a set of tiles that continue each other along their own axis.
type Group struct {
	Level       int
	tiles       []tile
	Origin, Dir ruler.Point // axis through the middle
	T0, T1      float64     // first and last tile centre along the axis
	W0, W1      float64     // and across it
	// The pitch at t is Pitch0 + Slope t; perspective makes it change along a ruler.
	Pitch0, Slope float64
	score         float64
}

// Pitch is the local pitch at t along the axis, px of the picture.
func (g *Group) Pitch(t float64) float64 {
	t = max(g.T0, min(g.T1, t))
	return max(g.Pitch0+g.Slope*t, leastPitch*g.Pitch0)
}

// groupTiles joins the tiles of one level into groups: neighbours in the grid that agree in
// direction and pitch.
func groupTiles(tiles []tile) []Group {
	grid := map[[2]int]int{}
	for i, t := range tiles {
		grid[[2]int{t.col, t.row}] = i
	}
	seen := make([]bool, len(tiles))
	var groups []Group
	for _, i := range byPower(tiles) {
		if seen[i] {
			continue
		}
		if g, ok := newGroup(flood(tiles, grid, seen, i)); ok {
			groups = append(groups, g)
		}
	}
	return groups
}

func byPower(tiles []tile) []int {
	order := make([]int, len(tiles))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return tiles[order[a]].power > tiles[order[b]].power })
	return order
}

// flood collects the tiles reached from one by steps between like neighbours.
func flood(tiles []tile, grid map[[2]int]int, seen []bool, start int) []tile {
	seen[start] = true
	queue, out := []int{start}, []tile(nil)
	for len(queue) > 0 {
		a := tiles[queue[0]]
		queue = queue[1:]
		out = append(out, a)
		for dr := -reach; dr <= reach; dr++ {
			for dc := -reach; dc <= reach; dc++ {
				j, ok := grid[[2]int{a.col + dc, a.row + dr}]
				if ok && !seen[j] && alike(a, tiles[j]) {
					seen[j] = true
					queue = append(queue, j)
				}
			}
		}
	}
	return out
}

// alike says whether two neighbouring tiles can show the same graduations.
func alike(a, b tile) bool {
	if math.Abs(a.dir.Cross(b.dir)) > dirApart || math.Abs(math.Log(a.pitch/b.pitch)) > pitchApart {
		return false
	}
	d := b.at.Sub(a.at)
	across := math.Abs(a.dir.Cross(d))
	along := math.Abs(a.dir.Dot(d))
	return across <= besideSteps*tileStep*math.Exp2(float64(a.level)) || across < besideShare*along
}

// newGroup fits an axis and a pitch to tiles; ok is false where they are too few or too short
// a row to be graduations.
func newGroup(tiles []tile) (Group, bool) {
	if len(tiles) < fewestTiles {
		return Group{}, false
	}
	g := Group{Level: tiles[0].level, tiles: tiles}
	g.fitAxis()
	g.spread()
	// Two columns of tiles are enough where the pitch is nearly all that they show.
	least := shortGroup
	if g.score > clearShare*float64(len(tiles)) {
		least = clearGroup
	}
	if g.T1-g.T0 < least*tileStep*math.Exp2(float64(g.Level)) {
		return Group{}, false
	}
	g.fitPitch()
	return g, true
}

// fitAxis takes the mean direction of the tiles (as doubled angles, since either way is the
// same axis), then the line through them nearest to it.
func (g *Group) fitAxis() {
	var c, s, sw float64
	var mid ruler.Point
	for _, t := range g.tiles {
		w := math.Sqrt(t.power)
		c += w * (t.dir.X*t.dir.X - t.dir.Y*t.dir.Y)
		s += w * 2 * t.dir.X * t.dir.Y
		mid = mid.Add(t.at.Mul(w))
		sw += w
		g.score += t.share
	}
	a := 0.5 * math.Atan2(s, c)
	g.Origin, g.Dir = mid.Mul(1/sw), ruler.Point{X: math.Cos(a), Y: math.Sin(a)}
	g.turnToTiles()
}

// turnToTiles turns the axis to the run of the tiles themselves: marks need not be square to
// it. A tile's place across is known to about half a step and marks seldom lean by more than
// 0.08 rad, so a short row turns little (ridge regression with that prior).
func (g *Group) turnToTiles() {
	var tt, tw, sw float64
	for _, t := range g.tiles {
		d := t.at.Sub(g.Origin)
		w := math.Sqrt(t.power)
		tt += w * g.Dir.Dot(d) * g.Dir.Dot(d)
		tw += w * g.Dir.Dot(d) * g.Dir.Cross(d)
		sw += w
	}
	half := tileStep * math.Exp2(float64(g.Level)) / 2
	tt += sw / float64(len(g.tiles)) * half * half / (leanPrior * leanPrior)
	g.Dir = g.Dir.Add(g.Dir.Perp().Mul(max(-mostTurn, min(mostTurn, tw/tt)))).Unit()
}

func (g *Group) spread() {
	g.T0, g.W0 = math.Inf(1), math.Inf(1)
	g.T1, g.W1 = math.Inf(-1), math.Inf(-1)
	for _, t := range g.tiles {
		d := t.at.Sub(g.Origin)
		g.T0, g.T1 = min(g.T0, g.Dir.Dot(d)), max(g.T1, g.Dir.Dot(d))
		g.W0, g.W1 = min(g.W0, g.Dir.Cross(d)), max(g.W1, g.Dir.Cross(d))
	}
}

// fitPitch fits the pitch as a straight line along the axis, by least squares weighted with
// the tiles' power.
func (g *Group) fitPitch() {
	var sw, st, sp, stt, stp float64
	for _, t := range g.tiles {
		w, x := math.Sqrt(t.power), g.Dir.Dot(t.at.Sub(g.Origin))
		// The tile's pitch is measured across the marks, the axis may run at an angle to them.
		p := t.pitch / max(leastSquare, math.Abs(g.Dir.Dot(t.dir)))
		sw, st, sp = sw+w, st+w*x, sp+w*p
		stt, stp = stt+w*x*x, stp+w*x*p
	}
	den := sw*stt - st*st
	if den > 0 && g.T1-g.T0 > slopeSteps*tileStep*math.Exp2(float64(g.Level)) {
		g.Slope = (sw*stp - st*sp) / den
	}
	g.Pitch0 = (sp - g.Slope*st) / sw
}

// long says whether a group is likely a good part of a ruler's marks.
func (g *Group) long() bool {
	return (g.T1-g.T0)/g.Pitch0 > longPeriods && g.score > longShare*float64(len(g.tiles))
}

// rank is the number of periods along the axis that the tiles show, weighed by how clearly.
func (g *Group) rank() float64 {
	var p float64
	for _, t := range g.tiles {
		p += t.power
	}
	n := float64(len(g.tiles))
	// Amplitude in grey levels: a Hann window of this size sums to (Side/2)^2. Weave and
	// compression patterns reach a level or so, marks many.
	a := 2 * math.Sqrt(p/n) / (Side * Side / 4)
	return (g.T1 - g.T0) / g.Pitch0 * g.score / n * a / (a + faintTones)
}

// Turn turns the axis about the group's origin.
func (g *Group) Turn(slope float64) { g.Dir = g.Dir.Add(g.Dir.Perp().Mul(slope)).Unit() }
