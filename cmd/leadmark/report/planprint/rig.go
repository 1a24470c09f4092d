package planprint

import (
	"fmt"
	"math"

	"leadmark/calib/plan"
	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/report/figure/drawing"
	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/fit/unit"
)

// rigHeight is the most the panel with camera and heads may take, px.
const rigHeight = 460.0

// spot is a thing that stands about the subject, seen from above; metres.
type spot struct {
	class, text string
	at          [2]float64 // along, depth
}

// spotsOf places the camera, and the heads at their distances. Their directions are not in the
// rig's description, so they are sketched: heads on the subject from the camera's side, a rim from
// behind, a backdrop's head far behind.
func spotsOf(p plan.Plan) []spot {
	f := p.Framing
	all := []spot{{"camera", fmt.Sprintf("camera, sensor %s from the plane in focus",
		lengthText(f.Optics.SensorDistance())), [2]float64{f.Aim[0], f.Optics.SensorDistance()}}}
	count := map[rig.Lights]int{}
	for i, h := range p.Request.Rig.Flash {
		if h.Distance == 0 {
			continue
		}
		first := map[rig.Lights]float64{rig.Subject: 42, rig.Rim: 140, rig.Backdrop: 165}[h.Lights]
		n := count[h.Lights]
		count[h.Lights]++
		angle := (first + 14*float64(n/2)) * math.Pi / 180
		side := float64(1 - 2*(n%2))
		if h.Lights == rig.Rim {
			side = -side
		}
		sin, cos := math.Sincos(angle)
		text := fmt.Sprintf("%s, %s", headLabel(h, i, p), lengthText(h.Distance))
		all = append(all, spot{"head", text, [2]float64{f.Aim[0] - side*h.Distance*sin, h.Distance * cos}})
	}
	return all
}

func headLabel(h rig.Head, i int, p plan.Plan) string {
	name := h.Name
	if name == "" {
		name = "head"
	}
	if l := p.Light; l != nil && l.Heads[i].Power > 0 {
		return name + " (" + lightsText(h.Lights) + ") at " + rig.PowerText(l.Heads[i].Power)
	}
	return name + " (" + lightsText(h.Lights) + ")"
}

// drawRig draws camera and heads about the reach, from above and to one scale, with a numbered list
// beside.
func drawRig(d *drawing.Drawing, p plan.Plan, y float64) float64 {
	spots := spotsOf(p)
	along, depth := p.Reach.Along, p.Reach.Depth
	for _, s := range spots {
		along = [2]float64{min(along[0], s.at[0]), max(along[1], s.at[0])}
		depth = [2]float64{min(depth[0], s.at[1]), max(depth[1], s.at[1])}
	}
	room := 0.09 * max(along[1]-along[0], depth[1]-depth[0])
	along, depth = [2]float64{along[0] - room, along[1] + room}, [2]float64{depth[0] - room, depth[1] + room}
	const wide = 470.0
	px := min(wide/(along[1]-along[0]), rigHeight/(depth[1]-depth[0]))
	q := pane{d, setMargin, y + 34, setMargin + px*(along[1]-along[0]), y + 34 + px*(depth[1]-depth[0]), along,
		depth, px, true}
	d.Text("label", q.x0, q.y0-12, "start", "The set from above")
	d.Box("panel", q.x0, q.y0, q.x1, q.y1)
	q.stand(p, spots)
	list := q.list(spots, settingsText(p), q.x1+26)
	bottom := q.y1
	q.scaleBar()
	return max(bottom+44, list)
}

func (q pane) stand(p plan.Plan, spots []spot) {
	f := p.Framing
	u := f.Optics.PupilDistance()
	for _, side := range []float64{-1, 1} {
		q.d.Line("sight", q.at(f.Aim[0], u), q.at(f.Aim[0]+side*f.Field[0]/2*(u-q.other[0])/u, q.other[0]))
	}
	cam := q.at(spots[0].at[0], spots[0].at[1])
	q.d.Box("lens", cam[0]-10, q.at(f.Aim[0], u)[1], cam[0]+10, cam[1])
	for _, s := range spots[1:] {
		q.d.Line("ray", q.at(s.at[0], s.at[1]), q.at(f.Aim[0], 0))
	}
	q.area("outline", p.Reach.TopView)
	q.rect("reach", p.Reach.Along, p.Reach.Depth)
	q.exitMark(p.Request.Subject.Exit[1])
	for i, s := range spots {
		at := q.at(s.at[0], s.at[1])
		if s.class == "camera" {
			q.d.Box("camera", at[0]-16, at[1]-11, at[0]+16, at[1]+11)
		} else {
			q.d.Disc("head", at[0], at[1], 13)
		}
		q.d.Text("mark", at[0], at[1]+5.5, "middle", fmt.Sprint(i+1))
	}
}

func (q pane) exitMark(width float64) {
	half := max(width/2, 4/q.px)
	q.d.Line("exit", q.at(0, -half-8/q.px), q.at(0, -half))
	q.d.Line("exit", q.at(0, half), q.at(0, half+8/q.px))
	q.d.Line("beam", q.at(0, -half), q.at(0, half))
}

// list names the numbered spots and returns where it ends.
func (q pane) list(spots []spot, settings []string, x float64) float64 {
	y := q.y0 + 18
	for i, s := range spots {
		if s.class == "camera" {
			q.d.Box("camera", x, y-14, x+28, y+6)
		} else {
			q.d.Disc("head", x+14, y-5, 12)
		}
		q.d.Text("mark", x+14, y, "middle", fmt.Sprint(i+1))
		q.d.Text("label", x+42, y+1, "start", s.text)
		y += legendStep
	}
	y += 10
	for _, line := range settings {
		q.d.Text("label", x, y, "start", line)
		y += legendStep - 4
	}
	for _, line := range []string{"Distances are to scale. The rig does not state the heads' directions:",
		"they are only sketched."} {
		q.d.Text("tick", x, y+8, "start", line)
		y += 20
	}
	return y + 8
}

// settingsText is what to set, in a few lines.
func settingsText(p plan.Plan) []string {
	f := p.Framing
	chance := "a keeper in " + chanceOfKeeper(p) + " of trips"
	return []string{cameraSettings(p), fmt.Sprintf("field %s x %s, %s, 1 : %s", lengthText(f.Field[0]),
		lengthText(f.Field[1]), f.Orientation(), plainNumber(unit.Significant(1/f.Optics.Magnification, 2))),
		"aimed " + lengthText(f.Aim[0]) + " past the trip point, " + aimHeight(*f), chance}
}

// scaleBar draws a bar of a round length below the panel.
func (q pane) scaleBar() {
	l := svg.NiceStep((q.along[1] - q.along[0]) / 5)
	y := q.y1 + 18
	a, b := [2]float64{q.x0, y}, [2]float64{q.x0 + l*q.px, y}
	q.d.Line("axis", a, b)
	for _, e := range [][2]float64{a, b} {
		q.d.Line("axis", [2]float64{e[0], y - 5}, [2]float64{e[0], y + 5})
	}
	q.d.Text("tick", b[0]+10, y+5, "start", lengthText(l))
}
