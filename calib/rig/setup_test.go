package rig

import (
	"strconv"
	"strings"
	"testing"

	"leadmark/calib"
	"leadmark/calib/read"
)

func framesOf(exposure ...float64) calib.Result {
	var r calib.Result
	for _, t := range exposure {
		f := calib.FrameResult{Shot: read.Shot{Status: "read"}}
		f.Make, f.Model, f.Focal, f.FNumber, f.Exposure = "Bench", "Bench 7", 0.1, 11, t
		r.Frames = append(r.Frames, f)
	}
	return r
}

func TestSetupComesFromFramesThenProfile(t *testing.T) {
	var p Profile
	p.Lens.Focal, p.Camera.Sync, p.Camera.Shutter, p.Camera.SyncOn = 0.05, 0.005, "mechanical", "first curtain"
	s := setupOf(framesOf(0.005, 0.005), p)
	if s.Body != "Bench 7" || s.FocalMM != 100 || s.ExposureS != 0.005 || s.FNumber != 11 ||
		s.Shutter != "mechanical" || s.SyncS != 0.005 || s.Sync != "first curtain" || s.Varies != nil {
		t.Errorf("%+v", s)
	}
	if s := setupOf(calib.Result{}, p); s.FocalMM != 50 || s.Body != "" {
		t.Errorf("without frames the profile tells the lens: %+v", s)
	}
	v := setupOf(framesOf(0.005, 0.004), p)
	if v.ExposureS != 0 || len(v.Varies) != 1 || v.Like(s) {
		t.Errorf("%+v", v)
	}
	refused := framesOf(0.005, 0.1)
	refused.Frames[1].Status = "refused"
	if !setupOf(refused, p).Like(s) {
		t.Error("a refused frame bears on the set-up")
	}
}

// Exposure times and f-numbers are set in thirds of a stop; the nominal values are those of ISO
// 2720's and ISO 517's rounded scales as printed on cameras (common practice, from memory).
func TestSetupsThatCountAsOne(t *testing.T) {
	base := Setup{Body: "Bench 7", FocalMM: 100, ExposureS: 0.005, FNumber: 11, Shutter: "mechanical"}
	change := func(f func(s *Setup)) Setup { s := base; f(&s); return s }
	open := change(func(s *Setup) { s.Shutter = ShutterOpen })
	for name, c := range map[string]struct {
		a, b Setup
		like bool
		why  string
	}{
		"itself":           {base, base, true, ""},
		"the time rounded": {base, change(func(s *Setup) { s.ExposureS = 0.0049 }), true, ""},
		"a third of a stop": {base, change(func(s *Setup) { s.ExposureS = 1.0 / 160 }), false,
			"exposure time 0.005 s against 0.00625 s"},
		"the aperture": {base, change(func(s *Setup) { s.FNumber = 10 }), false, "f-number 11 against 10"},
		"another lens": {base, change(func(s *Setup) { s.FocalMM = 60 }), false,
			"focal length 100 mm against 60 mm"},
		"another body": {base, change(func(s *Setup) { s.Body = "Bench 8" }), false,
			"body Bench 7 against Bench 8"},
		"another curtain": {base, change(func(s *Setup) { s.Sync = "second curtain" }), false,
			"sync on second curtain, not stated for the other"},
		"nothing known of one":  {base, Setup{}, false, "body Bench 7, not stated for the other"},
		"nothing known of both": {Setup{}, Setup{}, true, ""},
		"open: time is nothing": {open, change(func(s *Setup) {
			s.Shutter, s.ExposureS, s.FNumber = ShutterOpen, 4, 16
		}), true, ""},
		"open against shut": {open, base, false, "shutter open against mechanical"},
	} {
		if c.a.Like(c.b) != c.like || c.b.Like(c.a) != c.like {
			t.Errorf("%s: like is %v", name, !c.like)
		}
		if got := strings.Join(c.a.Differences(c.b), "; "); !strings.Contains(got, c.why) || c.like != (got == "") {
			t.Errorf("%s: %q, want %q", name, got, c.why)
		}
	}
	for i, n := range []float64{1.4, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3.2, 3.5, 4, 4.5, 5, 5.6, 6.3, 7.1, 8, 9, 10, 11,
		13, 14, 16, 18, 20, 22} {
		if want := strconv.Itoa(i + 3); thirds(n, 2) != want {
			t.Errorf("f/%v is third %s, want %s", n, thirds(n, 2), want)
		}
	}
}

func TestShutterAndSyncAreChecked(t *testing.T) {
	p, err := Parse("rig.toml", []byte("[camera]\nshutter = \"electronic first curtain\"\nsync = \"second curtain\"\n"))
	if err != nil || p.Camera.Shutter != "electronic first curtain" || p.Camera.SyncOn != "second curtain" {
		t.Errorf("%+v, %v", p.Camera, err)
	}
	for text, want := range map[string]string{"shutter = \"slow\"": "rig.toml:2: shutter is \"slow\"; it is " +
		"one of: mechanical", "sync = \"rear\"": "sync is \"rear\""} {
		if _, err := Parse("rig.toml", []byte("[camera]\n"+text+"\n")); err == nil ||
			!strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}
