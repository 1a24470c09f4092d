package crops

import "leadmark/vision/synth/texture"

// coarse are the graduations of yardsticks and of wide folding rules.
func coarse() (list []Scale) {
	for _, s := range trade() {
		switch s.Name {
		case "2 mm", "5 mm", "1/8 inch", "1/10 inch", "1/16 inch":
			list = append(list, s)
		}
	}
	return list
}

// fold makes a folding rule of it whose next section, a few mm under or over the first, begins in
// the picture behind a hinge's plate.
func (p *posed) fold() {
	l, r := p.l, &p.Ruler
	from, to := p.viewed()
	j := Joint{At: from + l.Span(0.45, 0.85)*(to-from), Half: l.Span(5, 9),
		Grow: l.Sign() * l.Span(1, 3.5) / p.Pose.Distance}
	j.Half = min(j.Half, 0.06*(to-from))
	j.Along, j.Across = l.Span(-0.3, 0.3), l.Span(-0.4, 0.4)
	r.Joint = j
	colour := texture.Pick(l, texture.Colour{0.5, 0.36, 0.14}, texture.Grey(0.45), texture.Grey(0.05))
	p.Covers = append(p.Covers, Cover{Kind: "clamp", P: j.At, R: j.Half, FromQ: -0.6, Q: r.Width + 0.6,
		Colour: colour.Times(0.8 / max(0.8, p.Lighting.Level)), grain: texture.NewGrain(l)})
}
