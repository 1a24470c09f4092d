package rig

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"leadmark/calib"
	"leadmark/fit/unit"
)

// Setup is what the lag of a calibration belongs to: the body, the lens's focal length, how the
// shutter worked and for how long, and the aperture. Calibrations are only held against others of
// the same set-up. The zero value stands for a line that says nothing of it.
type Setup struct {
	Body      string   `json:"body,omitempty"`       // make and model, from the frames
	FocalMM   float64  `json:"focal_mm,omitempty"`   // from the frames, else from rig.toml
	Shutter   string   `json:"shutter,omitempty"`    // as rig.toml states it
	ExposureS float64  `json:"exposure_s,omitempty"` // from the frames
	Sync      string   `json:"sync,omitempty"`       // which curtain fires the flash, as rig.toml states it
	SyncS     float64  `json:"sync_s,omitempty"`     // as rig.toml states it
	FNumber   float64  `json:"f_number,omitempty"`   // from the frames
	Varies    []string `json:"varies,omitempty"`     // keys that were not the same in all frames read, and so are left out
	// Fingerprint is the same text for set-ups that count as one, for whoever sorts lines by it.
	Fingerprint string `json:"fingerprint,omitempty"`
}

// setupOf tells the set-up of a run from its frames, and what those do not say from the profile.
func setupOf(r calib.Result, p Profile) Setup {
	s := Setup{Shutter: p.Camera.Shutter, Sync: p.Camera.SyncOn, SyncS: unit.Stated(p.Camera.Sync)}
	s.Body = oneOf(&s, "body", r, func(f calib.FrameResult) string { return body(f.Make, f.Model) })
	s.FocalMM = oneOf(&s, "focal_mm", r, func(f calib.FrameResult) float64 { return unit.Stated(f.Focal * 1e3) })
	s.ExposureS = oneOf(&s, "exposure_s", r, func(f calib.FrameResult) float64 { return unit.Stated(f.Exposure) })
	s.FNumber = oneOf(&s, "f_number", r, func(f calib.FrameResult) float64 { return unit.Stated(f.FNumber) })
	if s.FocalMM == 0 && !slices.Contains(s.Varies, "focal_mm") {
		s.FocalMM = unit.Stated(p.Lens.Focal * 1e3)
	}
	s.Fingerprint = s.key()
	return s
}

// oneOf is what all frames that were read say alike; where they differ the key is noted.
func oneOf[T comparable](s *Setup, key string, r calib.Result, of func(calib.FrameResult) T) T {
	var one, none T
	for _, f := range r.Frames {
		x := of(f)
		if f.Status != "read" || x == none {
			continue
		}
		if one != none && x != one {
			s.Varies = append(s.Varies, key)
			return none
		}
		one = x
	}
	return one
}

// body joins make and model; most models begin with the make.
func body(maker, model string) string {
	maker, model = strings.TrimSpace(maker), strings.TrimSpace(model)
	if strings.HasPrefix(strings.ToLower(model), strings.ToLower(maker)) {
		return model
	}
	return strings.TrimSpace(maker + " " + model)
}

// property is one thing by which set-ups differ.
type property struct {
	key, name   string
	same, shown string // what must be equal, and as a person reads it; "" where not stated
}

// properties lists what counts. With the shutter held open the camera's part is not in the lag, so
// that neither exposure time nor aperture counts. Apertures and exposure times are the same when
// they round to the same third of a stop (as cameras set them), focal lengths to the millimetre.
func (s Setup) properties() []property {
	all := []property{
		{"body", "body", s.Body, s.Body},
		{"focal_mm", "focal length", rounded(s.FocalMM, 1), withUnit(s.FocalMM, " mm")},
		{"shutter", "shutter", s.Shutter, s.Shutter},
		{"sync", "sync on", s.Sync, s.Sync},
		{"sync_s", "sync time", thirds(s.SyncS, 1), withUnit(s.SyncS, " s")},
	}
	if s.Shutter != ShutterOpen {
		all = append(all,
			property{"exposure_s", "exposure time", thirds(s.ExposureS, 1), withUnit(s.ExposureS, " s")},
			property{"f_number", "f-number", thirds(s.FNumber, 2), withUnit(s.FNumber, "")})
	}
	for i := range all {
		if slices.Contains(s.Varies, all[i].key) {
			all[i].same, all[i].shown = "varies", "varies from frame to frame"
		}
	}
	return all
}

// rounded writes x to a multiple of step, "" for 0.
func rounded(x, step float64) string {
	if x == 0 {
		return ""
	}
	return strconv.FormatFloat(math.Round(x/step)*step, 'g', 9, 64)
}

// thirds numbers the thirds of a stop: a stop doubles a time, and multiplies an f-number by the
// square root of two.
func thirds(x, perStop float64) string {
	if !(x > 0) {
		return ""
	}
	return strconv.FormatFloat(math.Round(3*perStop*math.Log2(x)), 'f', 0, 64)
}

func withUnit(x float64, unit string) string {
	if x == 0 {
		return ""
	}
	return strconv.FormatFloat(x, 'g', 4, 64) + unit
}

// key is the fingerprint: what must be equal, in one line.
func (s Setup) key() string {
	var parts []string
	for _, p := range s.properties() {
		if p.same != "" {
			parts = append(parts, p.key+"="+strconv.Quote(p.same))
		}
	}
	return strings.Join(parts, " ")
}

// Known reports whether anything is said of the set-up.
func (s Setup) Known() bool { return s.key() != "" }

// Like reports whether two calibrations may be held against each other.
func (s Setup) Like(t Setup) bool { return s.key() == t.key() }

// Differences says, a phrase each, why two set-ups do not count as one; empty where they do.
func (s Setup) Differences(t Setup) []string {
	var all []string
	theirs := map[string]property{}
	for _, p := range t.properties() {
		theirs[p.key] = p
	}
	for _, p := range s.properties() {
		q, counts := theirs[p.key]
		switch {
		case !counts || p.same == q.same:
		case p.same == "" || q.same == "":
			all = append(all, fmt.Sprintf("%s %s, not stated for the other", p.name, p.shown+q.shown))
		default:
			all = append(all, fmt.Sprintf("%s %s against %s", p.name, p.shown, q.shown))
		}
	}
	return all
}

// String names a set-up for a person.
func (s Setup) String() string {
	var parts []string
	for _, p := range s.properties() {
		switch {
		case p.shown == "":
		case p.key == "body":
			parts = append(parts, p.shown)
		default:
			parts = append(parts, p.name+" "+p.shown)
		}
	}
	if len(parts) == 0 {
		return "nothing is stated of it"
	}
	return strings.Join(parts, ", ")
}
