package main

// planBreaks are of framing, focus and light, and of where the subject is.
func planBreaks() []deliberate {
	const plan, light, law, course = "calib/plan", "calib/plan/light", "calib/plan/predict", "calib/plan/subject"
	return []deliberate{
		{"plan: depth of field without the magnification", plan, "Optics.Defocus",
			"return o.Magnification * o.Focal / o.FNumber", "return o.Focal / o.FNumber", "", "."},
		{"plan: the f-number at work without the bellows", plan, "Optics.EffectiveFNumber",
			"(1 + o.Magnification/o.Pupil)", "1", "", "."},
		{"plan: the near limit for the far one", plan, "Optics.DepthOfField", "return -c * u / (b - c), near",
			"return -c * u / (b + c), near", "", "."},
		{"plan: half the Airy disc", plan, "Optics.Diffraction", "2.44", "1.22", "", "."},
		{"plan: hyperfocal without its last term", plan, "Optics.Hyperfocal", " + o.Focal }", " }", "", "."},
		{"plan: the blurs added", plan, "focuser.blurAt", "b.Total = math.Sqrt(sq(b.Motion) + sq(b.Defocus)",
			"b.Total = math.Sqrt(sq(b.Motion+b.Defocus)", "", "."},
		{"plan: motion counts for nothing", plan, "focuser.blurAt", "sq(b.Motion) + sq(b.Defocus)", "sq(b.Defocus)",
			"", "."},
		{"plan: the widest aperture", plan, "focuser.choose", "b.Total < least*(1-1e-9)", "least > 1e9", "", "."},
		{"plan: a trip too few", plan, "TripsFor", "math.Ceil(", "math.Floor(", "", "."},
		{"plan: out of focus is a keeper", plan, "settings.keeper", "k.sharp(s, i)", "true", "", "."},
		{"plan: cut off is a keeper", plan, "settings.keeper", "k.frame.whole(s, i)", "true", "", "."},
		{"plan: the frame is as wide behind as before", plan, "window.over", "k := max(1-s.Near[i]/w.u, 0)",
			"k := 1.0 + 0*w.u", "", "."},
		{"light: twice the guide number", light, "flashFNumber", "return h.GuideNumber", "return 2 * h.GuideNumber",
			"", "."},
		{"light: ISO counts in stops of two", light, "flashFNumber", "power*iso/100", "power*iso*iso/1e4", "", "."},
		{"light: a stop of the aperture is a power of two", light, "stopsOver", "2 * math.Log2", "math.Log2", "",
			"."},
		{"light: an unknown duration freezes", light, "Light.longest", "l.Longest = nil\n\t\t\treturn", "continue",
			"", "."},
		{"light: the shortest flash decides", light, "Light.longest", "h.Flash.T01 > l.Longest.T01",
			"h.Flash.T01 < l.Longest.T01", "", "."},
		{"light: ambient light without the ISO", light, "Light.Ambient", " - math.Log2(l.ISO/100)", "", "", "."},
		{"reach: the law is not cut at zero", law, "Law.Quantile", "cut := l.BelowZero()", "cut := 0.0", "", "."},
		{"reach: a normal law for a few shots", law, "Law.StandardQuantile", "if l.DF == 0 || l.DF > 1e5 {",
			"if l.DF >= 0 {", "", "."},
		{"reach: the mean of a law without its cut", law, "Law.CutMean", "return l.Mean + l.Scale*",
			"return l.Mean + 0*l.Scale*", "", "."},
		{"reach: a course stops at its last point but one", course, "Course.At", "c.Time[mid] <= t",
			"c.Time[mid] < t-1e9", "", "."},
	}
}
