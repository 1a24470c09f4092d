package main

import "slices"

// breaks are all deliberate breaks, by the part of the work.
func breaks() []deliberate {
	return slices.Concat(
		pageBreaks(),
		storeBreaks(),
		readBreaks(),
		rulerBreaks(),
		flashBreaks(),
		limitBreaks(),
		animalBreaks(),
		fitBreaks(),
		studyBreaks(),
		planBreaks(),
		documentBreaks(), synthBreaks(),
		toolBreaks(),
	)
}

func pageBreaks() []deliberate {
	const guard, places = "cmd/leadmark/desk/guard", "cmd/leadmark/desk/places"
	return []deliberate{
		{"page: scripts from anywhere", guard, "policy", "script-src 'self'", "script-src * 'unsafe-inline'", "",
			"TestPolicy"},
		{"page: no default source", guard, "policy", "default-src 'none'", "default-src *", "", "TestPolicy"},
		{"page: framed by others", guard, "policy", "; frame-ancestors 'none'", "", "", "TestPolicy"},
		{"page: a cookie that scripts read", guard, "Guard.hasKey", "HttpOnly: true", "HttpOnly: false", "",
			"TestKey"},
		{"page: a cookie for other sites", guard, "Guard.hasKey", "http.SameSiteStrictMode",
			"http.SameSiteNoneMode", "", "TestKey"},
		{"page: four letters of the token", guard, "same", "[]byte(a), []byte(b)",
			"[]byte(a)[:min(4, len(a))], []byte(b)[:min(4, len(b))]", "", "TestEveryLetter|TestKey"},
		{"page: no token", guard, "Guard.mayChange", "!same(r.Header.Get(TokenHeader), g.Token)", "g.Token == \"\"",
			"", "TestEveryLetter"},
		{"page: a link out of the folder is shown", places, "Places.Inside", "err == nil && filepath.IsLocal(back)",
			"err == nil || filepath.IsLocal(back)", "", "TestLinks"},
		{"page: hidden folders are shown", places, "Places.look", "strings.HasPrefix(name, \".\")", "false", "",
			"TestHidden"},
		{"page: a body of any size", guard, "Guard.mayChange", "r.Body = http.MaxBytesReader(w, r.Body, MostBody)",
			"", "cmd/leadmark/desk", "TestHugeUpload"},
		{"page: no key", guard, "Guard.welcome", "g.remote && !g.hasKey(w, r)", "g.Key == \"\"", "", "TestKey"},
	}
}

func storeBreaks() []deliberate {
	const store, power = "calib/store", "cmd/leadmark"
	return []deliberate{
		{"store: an added line is not synced", store, "put", "if err == nil {\n\t\terr = file.Sync()\n\t}", "", "",
			"TestAppend|TestATorn"},
		{"store: what was undone is not synced", store, "put", "if undo == nil {\n\t\tundo = file.Sync()\n\t}", "",
			"", "TestAppend|TestATorn"},
		{"store: a new text is not synced", store, "writePart", "err = file.Sync()", "err = nil", "",
			"TestReplace|TestCreate"},
		{"store: the folder of a new name is not synced", store, "folder",
			"err := d.SyncFolder(filepath.Dir(path)); err != nil", "err := error(nil); filepath.Dir(path) == \"\"",
			"", "."},
		{"store: the names of many files are not synced", store, "Settle", "err := d.SyncFolder(dir)",
			"err := error(nil)", power, "TestPowerCuts"},
		{"store: a new folder is not synced", store, "MakeFolder", "return System().SyncFolder(above)",
			"return nil", power, "TestPowerCuts"},
		{"store: names in a folder that appears whole", store, "syncTree", "return System().SyncFolder(path)",
			"return nil", power, "TestPowerCuts"},
		{"store: files in a folder that appears whole", store, "syncTree", "errors.Join(f.Sync(), f.Close())",
			"f.Close()", power, "TestPowerCuts"},
		{"store: done is said before the line is on the disk", store, "put", "err = file.Sync()", "err = nil",
			power, "TestPowerCuts"},
		{"store: a link is followed", store, "Lines.look", "info.Mode()&fs.ModeSymlink != 0", "false", "", "."},
		{"store: a part under a name that can be guessed", store, "partName", "strings.ToLower(rand.Text()[:16])",
			"rand.Text()[:0] + strings.Repeat(\"a\", 16)", "", "."},
		{"store: two lines at once", "calib/rig", "Store.locked",
			"unlock, err := store.Lock(ctx, filepath.Join(dir, DescriptionName))",
			"unlock, err := func() error { return nil }, error(nil)", "", "TestAppendWaits"},
		{"store: a later version's line is added to", "calib/rig", "Store.locked", "if h.later {", "if false {", "",
			"."},
		{"store: a run twice is not said", "calib/rig", "Store.locked", "e.RunSHA256 == run", "e.RunSHA256 == \"\"",
			"", "."},
		{"store: permissions are lost", store, "writePart", "err == nil && mode != nil",
			"err != nil && mode != nil", "", "TestReplaceKeeps"},
		{"store: a torn end stays", store, "put", "if keep < int64(len(before)) {\n\t\terr",
			"if keep > int64(len(before)) {\n\t\terr", "", "TestAppend|TestATorn"},
	}
}

func readBreaks() []deliberate {
	const line = "calib/read/tripline"
	const frame = "vision/frame"
	return []deliberate{
		{"read: the own line lies on the front ends", line, "Path.own", "rear - 2e-3*p.PxPerM", "rear", "", "."},
		{"read: a false trip lays the line", line, "Path.own", "f > mid-6*spread", "f > mid-600*spread", "", "."},
		{"read: the still's reading is sure", line, "Choose", "r.Front.U/r.PxPerM", "0", "", "."},
		{"read: the trip place moves backwards", line, "Path.Past", "p.Along.Mul(metres", "p.Along.Mul(-metres", "",
			"."},
		{"read: what was looked at with an error is remembered", "calib/read/cache", "Cache.Look",
			"if err != nil {", "if false {", "calib/read", "TestALookAtAReplaced"},
		{"read: exposure upside down", frame, "exif.positive", "float64(num) / float64(den)",
			"float64(den) / float64(num)", "", "TestExif|TestSamples"},
		{"read: focal length in millimetres", frame, "readExif", ") / 1000", ") / 1", "", "TestExif|TestSamples"},
		{"read: the zone east and west", frame, "parseOffset", "seconds = -seconds", "seconds = seconds + 0", "",
			"TestExif|TestOffset|Test"},
		{"read: five hundredths are half a second", frame, "subSeconds", "(digits + \"000000000\")[:9]",
			"(\"000000000\" + digits)[len(digits):]", "", "TestSubSeconds"},
		{"read: the first directory wins", "vision/frame/integrity", "ExifFields", "case e.kind > 12:",
			"case fields[e.tag].Block != nil:\n\t\tcase e.kind > 12:", frame, "TestSamples"},
		{"read: an EXIF value outside its block", "vision/frame/integrity", "block.entry",
			"at+n > int64(len(b.data))", "at+n > int64(len(b.data))+8", frame, "TestExif"},
		{"read: orientation 9", frame, "readExif", "o <= 8", "o <= 9", "", "TestOrientation"},
	}
}

func fitBreaks() []deliberate {
	return []deliberate{
		{"fit: an interval of half its width", "fit", "posterior.estimate",
			"Interval{mix.Quantile(0.025), mix.Quantile(0.975)}",
			"Interval{mix.Quantile(0.25), mix.Quantile(0.75)}", "", "TestCoverage$"},
		{"fit: an interval of twice its width", "fit", "posterior.estimate",
			"Interval{mix.Quantile(0.025), mix.Quantile(0.975)}",
			"Interval{mix.Quantile(0.00005), mix.Quantile(0.99995)}", "", "TestCoverage$"},
		{"fit: the middle 0.2 % of the lag", "fit", "posterior.estimate",
			"Interval{mix.Quantile(0.025), mix.Quantile(0.975)}",
			"Interval{mix.Quantile(0.499), mix.Quantile(0.501)}", "", "TestCoverage$"},
		{"fit: a standard uncertainty of half", "fit", "posterior.estimate", "math.Sqrt(u2)", "math.Sqrt(u2)/2", "",
			"Test"},
		{"fit: half the next shot's interval", "fit/nextshot", "Interval",
			"factor := stretchOf(p.Model, j, p.Best)", "factor := stretchOf(p.Model, j, p.Best) / 2", "fit",
			"Test"},
		{"fit: no stretch near nil", "fit/nextshot", "Interval", "factor := stretchOf(p.Model, j, p.Best)",
			"factor := 1.0", "", "TestInterval"},
		{"fit: a tolerance interval of half the shots", "fit", "AdvanceGroup.summarise",
			"stat.Tolerance(n, n-1, 0.95, 0.95)", "stat.Tolerance(n, n-1, 0.50, 0.95)", "", "TestReported"},
		{"fit: the spread divided by n", "fit", "AdvanceGroup.summarise", "math.Sqrt(ss / (n - 1))",
			"math.Sqrt(ss / n)", "", "TestReported"},
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
			"nil", "", "TestInputs"},
		{"documents: no generator", "calib/provenance", "Of", "Generator: This(), ", "", "calib/record", "."},
		{"words: a sentence is missing", "calib/words", "ruler", "\"dark\":", "\"dork\":", "", "."},
		{"check: focus is told as motion", "calib/shoot", "Sharpness", "return false, CauseFocus",
			"return false, CauseMotion", "", "Test"},
		{"check: the print's limit times three", "calib/shoot", "printBlur", "0.2 / 250", "0.6 / 250", "", "Test"},
		{"check: an interval of a third", "calib/shoot", "Learn", "math.Hypot(end-mean,",
			"math.Hypot((end-mean)/3,", "", "Test"},
		{"check: height upside down", "calib/shoot", "Setup.place", "h := (s.Exit[1] - a.Nose.Y) / s.Scale",
			"h := (a.Nose.Y - s.Exit[1]) / s.Scale", "", "Test"},
	}
}

func toolBreaks() []deliberate {
	const parallel = "fit/parallel"
	return []deliberate{
		{"tools: one worker too many", parallel, "Workers", "return asked\n", "return asked + 1\n", "",
			"TestWorkers"},
		{"tools: work is begun after an error", parallel, "Try", "if inner.Err() != nil {", "if false {", "",
			"TestTry"},
		{"tools: the end of a context is no error", parallel, "Try", "return context.Cause(ctx)", "return nil", "",
			"TestTry"},
		{"tools: the last piece is left out", parallel, "Each", "range n", "range n - 1", "", "TestEach"},
		{"tools: changed work looks committed", "calib/provenance", "commit", "changed = \", changed\"",
			"changed = \"\"", "", "TestCommit"},
		{"tools: the commit is not told", "calib/provenance", "Generator.String",
			"\" (commit \" + g.Commit + \")\"", "\"\"", "", "TestString"},
		{"tools: a check that writes", "scripts/generated", "Put", "case check:", "case check && len(text) > 9:",
			"", "TestPut"},
		{"tools: figures of the manual are taken for days", "scripts/manual", "undated", "20\\d\\d-\\d\\d-\\d\\d",
			"\\d+", "", "TestWrite"},
		{"tools: a place that is there twice", "scripts/breaks", "broken", "n != 1", "n < 1", "", "TestPlaces"},
		{"tools: the inputs' schema is anything", "calib/schemas", "of", "jsonschema.Ptr[any](key)", "nil",
			"cmd/leadmark", "TestDocumentsFollow"},
	}
}
