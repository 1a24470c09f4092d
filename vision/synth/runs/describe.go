package runs

import (
	"fmt"
	"strings"

	"leadmark/vision/synth/photo"
)

// toml returns the text of run.toml.
func (r *RunSpec) toml(base *photo.Scene) string {
	var b strings.Builder
	method := r.Method
	if method != "drop" {
		method = "push"
	}
	fmt.Fprintf(&b, "rig    = %q\nmethod = %q\ntravel = %q\n\n[ruler]\n", r.Rig, method, r.Travel)
	fmt.Fprintf(&b, "graduation_mm = %.6g\nfront_mm = %.6g\n", r.Look.Graduation()/mm, r.Look.Front()/mm)
	if r.Twin > 0 {
		fmt.Fprintf(&b, "twin_ms = %.6g\n", r.Twin*1e3)
	}
	if r.Look.Band != nil {
		fmt.Fprintf(&b, "mark = \"band\"\nband_mm = %.6g\n", r.Look.Band.At/mm)
	}
	switch r.Trip {
	case "line":
		l := base.Track.Line(base.Camera, base.StatedLine, r.Look.Width/2)
		fmt.Fprintf(&b, "\n[trip]\nline_px = [[%.3f, %.3f], [%.3f, %.3f]]\nu_mm = 0.5\n", l.A.X, l.A.Y, l.B.X, l.B.Y)
	case "still":
		fmt.Fprintf(&b, "\n[trip]\nstill = %q\nu_mm = 0.5\n", stillName)
	}
	fmt.Fprintf(&b, "\n[conditions]\ndelay_ms = 0.0\n")
	if method == "drop" {
		fmt.Fprintf(&b, "gravity_mps2 = %.5f\nu_drop_mm = %.4g\nu_drop_shot_mm = %.4g\nu_drop_common_mm = %.4g\n",
			Gravity, r.UDrop/mm, r.UDropShot/mm, r.UDropCommon/mm)
		return b.String()
	}
	if r.USpeed > 0 && !r.Unstated {
		fmt.Fprintf(&b, "u_speed_mps = %.4g\n", r.USpeed)
	}
	if r.SpeedRepeat > 0 {
		fmt.Fprintf(&b, "speed_repeat = %.4g\n", r.SpeedRepeat)
	}
	return b.String()
}

// csv returns the text of shots.csv. Frames gone wrong are listed like the others: nobody knows yet.
func (r *RunSpec) csv(shots []shot) string {
	var b strings.Builder
	b.WriteString("frame,drop_mm,speed_mps,delay_ms,group,use,why\n")
	for i, s := range shots {
		if s.odd == "still" {
			continue
		}
		drop, speed := "", ""
		if s.drop > 0 && !r.Unstated {
			drop = fmt.Sprintf("%.6g", s.drop/mm)
		}
		if s.speed > 0 && !r.Unstated {
			speed = fmt.Sprintf("%.4f", s.speed)
		}
		fmt.Fprintf(&b, "%s,%s,%s,%.6g,%s,yes,\n", fileName(i), drop, speed, s.delay*1e3, s.group)
	}
	return b.String()
}

// fileName numbers the frames from 1.
func fileName(i int) string { return fmt.Sprintf("IMG_%04d.JPG", i+1) }

const stillName = "IMG_0001.JPG"
