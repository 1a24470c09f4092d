package main

import "slices"

// breaks are all deliberate breaks, by the part of the work.
func breaks() []deliberate {
	return slices.Concat(pageBreaks(), storeBreaks(), readBreaks(), fitBreaks(), documentBreaks(), toolBreaks())
}

func pageBreaks() []deliberate {
	const guard = "cmd/leadmark/desk/guard"
	return []deliberate{
		{"page: scripts from anywhere", guard, "policy", "script-src 'self'", "script-src * 'unsafe-inline'", "",
			"TestPolicy"},
		{"page: no default source", guard, "policy", "default-src 'none'", "default-src *", "", "TestPolicy"},
		{"page: framed by others", guard, "policy", "; frame-ancestors 'none'", "", "", "TestPolicy"},
		{"page: a cookie that scripts read", guard, "Guard.hasKey", "HttpOnly: true", "HttpOnly: false", "", "TestKey"},
		{"page: a cookie for other sites", guard, "Guard.hasKey", "http.SameSiteStrictMode",
			"http.SameSiteNoneMode", "",
			"TestKey"},
		{"page: four letters of the token", guard, "same", "[]byte(a), []byte(b)",
			"[]byte(a)[:min(4, len(a))], []byte(b)[:min(4, len(b))]", "", "TestEveryLetter|TestKey"},
		{"page: no token", guard, "Guard.mayChange", "!same(r.Header.Get(TokenHeader), g.Token)", "g.Token == \"\"", "",
			"TestEveryLetter"},
		{"page: no key", guard, "Guard.welcome", "g.remote && !g.hasKey(w, r)", "g.Key == \"\"", "", "TestKey"},
	}
}

func storeBreaks() []deliberate {
	const store = "calib/store"
	return []deliberate{
		{"store: an added line is not synced", store, "put", "if err == nil {\n\t\terr = file.Sync()\n\t}", "", "",
			"TestAppend|TestATorn"},
		{"store: what was undone is not synced", store, "put", "if undo == nil {\n\t\tundo = file.Sync()\n\t}", "", "",
			"TestAppend|TestATorn"},
		{"store: a new text is not synced", store, "Way.writePart", "if err == nil && !w.Unsynced {",
			"if err != nil && !w.Unsynced {", "", "TestReplace|TestCreate"},
		{"store: permissions are lost", store, "Way.writePart", "err == nil && mode != nil",
			"err != nil && mode != nil", "",
			"TestReplaceKeeps"},
		{"store: a torn end stays", store, "put", "if keep < int64(len(before)) {\n\t\terr",
			"if keep > int64(len(before)) {\n\t\terr",
			"", "TestAppend|TestATorn"},
	}
}

func readBreaks() []deliberate {
	const line = "calib/read/tripline"
	const frame = "vision/frame"
	return []deliberate{
		{"read: the own line lies on the front ends", line, "Path.own", "rear - 2e-3*p.PxPerM", "rear", "", "."},
		{"read: a false trip lays the line", line, "Path.own", "f > mid-6*spread", "f > mid-600*spread", "", "."},
		{"read: the still's reading is sure", line, "Choose", "r.Front.U/r.PxPerM", "0", "", "."},
		{"read: the trip place moves backwards", line, "Path.Past", "p.Along.Mul(metres", "p.Along.Mul(-metres",
			"", "."},
		{"read: what was looked at with an error is remembered", "calib/read/cache", "Cache.Look", "if err != nil {",
			"if false {", "calib/read", "TestALookAtAReplaced"},
		{"read: exposure upside down", frame, "exif.positive", "float64(num) / float64(den)",
			"float64(den) / float64(num)",
			"", "TestExif|TestSamples"},
		{"read: focal length in millimetres", frame, "readExif", ") / 1000", ") / 1", "", "TestExif|TestSamples"},
		{"read: the zone east and west", frame, "parseOffset", "seconds = -seconds", "seconds = seconds + 0", "",
			"TestExif|TestOffset|Test"},
		{"read: five hundredths are half a second", frame, "subSeconds", "(digits + \"000000000\")[:9]",
			"(\"000000000\" + digits)[len(digits):]", "", "TestSubSeconds"},
		{"read: the first directory wins", "vision/frame/integrity", "ExifFields", "case e.kind > 12:",
			"case fields[e.tag].Block != nil:\n\t\tcase e.kind > 12:", frame, "TestSamples"},
		{"read: an EXIF value outside its block", "vision/frame/integrity", "block.entry", "at+n > int64(len(b.data))",
			"at+n > int64(len(b.data))+8", frame, "TestExif"},
		{"read: orientation 9", frame, "readExif", "o <= 8", "o <= 9", "", "TestOrientation"},
	}
}

func fitBreaks() []deliberate {
	return []deliberate{
		{"fit: an interval of half its width", "fit", "posterior.estimate",
			"Interval{mix.Quantile(0.025), mix.Quantile(0.975)}",
			"Interval{mix.Quantile(0.25), mix.Quantile(0.75)}", "", "TestLag|TestCoverage|TestNIST|Test"},
		{"fit: an interval of twice its width", "fit", "posterior.estimate",
			"Interval{mix.Quantile(0.025), mix.Quantile(0.975)}",
			"Interval{mix.Quantile(0.00005), mix.Quantile(0.99995)}", "", "Test"},
		{"fit: the middle 0.2 % of the lag", "fit", "posterior.estimate",
			"Interval{mix.Quantile(0.025), mix.Quantile(0.975)}",
			"Interval{mix.Quantile(0.499), mix.Quantile(0.501)}", "", "Test"},
		{"fit: a standard uncertainty of half", "fit", "posterior.estimate", "math.Sqrt(u2)", "math.Sqrt(u2)/2",
			"", "Test"},
		{"fit: half the next shot's interval", "fit/nextshot", "Interval", "factor := stretchOf(p.Model, j, p.Best)",
			"factor := stretchOf(p.Model, j, p.Best) / 2", "fit", "Test"},
		{"fit: no stretch near nil", "fit/nextshot", "Interval", "factor := stretchOf(p.Model, j, p.Best)",
			"factor := 1.0",
			"", "TestInterval"},
		{"fit: a tolerance interval of half the shots", "fit", "AdvanceGroup.summarise",
			"stat.Tolerance(n, n-1, 0.95, 0.95)",
			"stat.Tolerance(n, n-1, 0.50, 0.95)", "", "TestReported"},
		{"fit: the spread divided by n", "fit", "AdvanceGroup.summarise", "math.Sqrt(ss / (n - 1))",
			"math.Sqrt(ss / n)", "",
			"TestReported"},
		{"fit: wrong quantiles of what is drawn", "fit", "solution.propagated", "Interval{at(0.025), at(0.975)}",
			"Interval{at(0.05), at(0.95)}", "", "Test"},
		{"fit: Student's t of one more", "fit/stat", "T95", "Nu: df}", "Nu: df + 1}", "", "Test"},
		{"fit: the median of an even number", "fit/stat", "Median", "/ 2\n", "/ 1\n", "", "Test"},
	}
}

func documentBreaks() []deliberate {
	return []deliberate{
		{"documents: a digit too few", "fit/unit", "places", "return n - 1 - e", "return n - 2 - e", "", "."},
		{"documents: metres as millimetres", "calib/record", "advanceEntry", "g.Delay * 1e3", "g.Delay", "", "."},
		{"documents: no digest", "calib/provenance", "Of", "InputsSHA256: inputsSHA256, ", "", "calib/record", "."},
		{"documents: the goal is no input", "calib/record", "madeOf", "[]byte(fmt.Sprintf(\"%+v\", run.Goal))",
			"nil", "",
			"TestInputs"},
		{"documents: no generator", "calib/provenance", "Of", "Generator: This(), ", "", "calib/record", "."},
		{"words: a sentence is missing", "calib/words", "ruler", "\"dark\":", "\"dork\":", "", "."},
		{"check: focus is told as motion", "calib/shoot", "Sharpness", "return false, CauseFocus",
			"return false, CauseMotion",
			"", "Test"},
		{"check: the print's limit times three", "calib/shoot", "printBlur", "0.2 / 250", "0.6 / 250", "", "Test"},
		{"check: a learned law three times too wide", "calib/shoot", "Learn",
			"out.MaxLikelihoodSD * math.Sqrt(n/(n-1))",
			"3 * out.MaxLikelihoodSD * math.Sqrt(n/(n-1))", "", "Test"},
		{"check: a speed that is never learned", "calib/shoot", "Learn", "out.Speed = mean",
			"out.Speed = s.Speed + 0*mean",
			"", "Test"},
		{"check: an interval of a third", "calib/shoot", "Learn", "math.Hypot(end-mean,",
			"math.Hypot((end-mean)/3,", "",
			"Test"},
		{"check: height upside down", "calib/shoot", "Setup.place", "h := (s.Exit[1] - a.Nose.Y) / s.Scale",
			"h := (a.Nose.Y - s.Exit[1]) / s.Scale", "", "Test"},
	}
}

func toolBreaks() []deliberate {
	const parallel = "fit/parallel"
	return []deliberate{
		{"tools: one worker too many", parallel, "Workers", "return asked\n", "return asked + 1\n", "", "TestWorkers"},
		{"tools: work is begun after an error", parallel, "Try", "if inner.Err() != nil {", "if false {", "", "TestTry"},
		{"tools: the end of a context is no error", parallel, "Try", "return context.Cause(ctx)", "return nil", "", "TestTry"},
		{"tools: the last piece is left out", parallel, "Each", "range n", "range n - 1", "", "TestEach"},
		{"tools: changed work looks committed", "calib/provenance", "commit", "changed = \", changed\"", "changed = \"\"", "",
			"TestCommit"},
		{"tools: the commit is not told", "calib/provenance", "Generator.String", "\" (commit \" + g.Commit + \")\"", "\"\"", "",
			"TestString"},
		{"tools: a check that writes", "scripts/generated", "Put", "case check:", "case check && len(text) > 9:", "", "TestPut"},
		{"tools: figures of the manual are taken for days", "scripts/manual", "undated", "20\\d\\d-\\d\\d-\\d\\d", "\\d+", "",
			"TestWrite"},
		{"tools: a place that is there twice", "scripts/breaks", "broken", "n != 1", "n < 1", "", "TestPlaces"},
		{"tools: the inputs' schema is anything", "calib/schemas", "of", "jsonschema.Ptr[any](key)", "nil", "cmd/leadmark",
			"TestDocumentsFollow"},
	}
}
