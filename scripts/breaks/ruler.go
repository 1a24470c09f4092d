package main

// rulerBreaks are of scales, ends, graduations and the camera's moves.
func rulerBreaks() []deliberate {
	const (
		coded   = "vision/ruler/coded"
		edge    = "vision/edge"
		marks   = "vision/marks"
		reading = "vision/ruler/reading"
		ruler   = "vision/ruler"
		scale   = "vision/ruler/scale"
		scene   = "vision/scene"
	)
	return []deliberate{
		{"read: no perspective", ruler, "Scale.Reading", "(s.T1 - s.T2*t)", "s.T1", "", "TestReadsWhat"},
		{"read: no perspective is fitted", scale, "ByIndex.improve", "l.C+d.AtVec(2)", "0*d.AtVec(2)", "",
			"TestFitOf"},
		{"read: a fit ten times as sure", scale, "ByIndex.summarise", "l.Cov[r][s] = v *",
			"l.Cov[r][s] = 0.01 * v *", "", "TestFitOf"},
		{"read: an end's uncertainty times 200", reading, "candidate.end", "U: u,", "U: 200 * u,", "", "TestAnEnd"},
		{"read: a twentieth of an end's uncertainty", reading, "candidate.end", "U: u,", "U: u / 20,", "",
			"TestAnEnd"},
		{"read: a third of a reading's uncertainty", ruler, "Scale.At",
			"math.Hypot(s.UReading(t), px/s.PxPerM(s.Reading(t)))",
			"math.Hypot(s.UReading(t), px/s.PxPerM(s.Reading(t))) / 3", "", "TestUncertaintyOf"},
		{"read: a scale without its covariances", ruler, "Scale.UReading", "r * t / den", "0 * r * t / den", "",
			"TestUncertaintyOf"},
		{"read: graduations a fifth of a sample aside", marks, "profile.top", "off = 0.5 * (a - d) / den",
			"off = 0.5*(a-d)/den + 0.2", "", "TestTop"},
		{"read: graduations at whole samples", marks, "profile.top", "off = 0.5 * (a - d) / den",
			"off = 0 * (a - d) / den", "", "TestTop"},
		{"read: graduations do not lean", ruler, "Scale.Along", "s.Dir.Dot(d) - s.Lean*w",
			"s.Dir.Dot(d) - 0*s.Lean*w", "", "TestReadsWhat"},
		{"read: a camera that was moved stays", ruler, "Reading.Moved", "p.Sub(d)", "p.Sub(d.Mul(0))", "",
			"TestMovedReading"},
		{"read: the front end stays where the camera was", ruler, "Reading.Moved", "r.Front = end(r.Front)",
			"_ = end(r.Front)", "", "TestMovedReading"},
		{"read: lines meet elsewhere", ruler, "Line.Meet", "return l.A.Add(d.Mul(t)), true",
			"return l.A.Add(d.Mul(1.01 * t)), true", "", "TestGeometry"},
		{"read: any even row is a ruler", reading, "sureEnough", "20.0", "5.0", "", "TestEvenRows"},
		{"read: evenness alone proves a ruler", reading, "evenAtMost", "11.0", "1100.0", "", "TestEvenRows"},
		{"read: a camera moved the other way", scene, "Shift", "s.Move, s.U, ok = shiftOf(a, b)",
			"s.Move, s.U, ok = shiftOf(b, a)", "", "TestShift"},
		{"read: no camera moves", scene, "Shift", "s.Move, s.U, ok = shiftOf(a, b)",
			"s.Move, s.U, ok = shiftOf(a, a)", "", "TestShift"},
		{"read: a move ten times as sure", scene, "aligner.uncertainty",
			"return 2 * max(f.scale, 0.5) * size / math.Sqrt(q)",
			"return 0.2 * max(f.scale, 0.5) * size / math.Sqrt(q)", "", "TestShift"},
		{"read: a zoom that is none", scene, "Shift", "d > s.Warp {", "d > s.Warp+99 {", "", "TestShift"},
		{"read: cells turned dark for light", coded, "Dark", "&1 == 1", "&1 == 0", "", "TestPrinted"},
		{"read: cells in another order", coded, "Dark", "(3-i%4)", "(i%4)", "", "TestPrinted"},
		{"read: an end half a pixel aside", edge, "wholeEdge.fit", "= e.a-e.b*e.mid,", "= e.a-e.b*e.mid+0.5,", "",
			"Test"},
		{"read: an end a fiftieth of a pixel aside", edge, "wholeEdge.fit", "= e.a-e.b*e.mid,",
			"= e.a-e.b*e.mid+0.02,", "", "Test"},
		{"read: pixels half a pixel aside", edge, "pieces.gatherFrom", "float64(x)-mid.X,", "float64(x)-mid.X+0.5,",
			"", "Test"},
		{"read: tones for light", "vision/pixel", "Light", "light[tone]", "float64(tone) / 255", edge, "Test"},
		{"read: a portrait the wrong way up", "vision/pixel", "upright", "l.Rotate(g, true)", "l.Rotate(g, false)",
			"", "TestUpright"},
		{"read: a ruler that lies still is read", ruler, "samePlace", "0.5", "0.0", "", "Test"},
		{"read: a long edge that goes on is no matter", marks, "corner.tell",
			"case 2*math.Abs(past-outside) >= along:", "case false:", "vision", "TestEndsAreTheRulersOwn"},
		{"read: an edge that goes on beside is no matter", marks, "corner.tell",
			"case 2*math.Abs(beside-outside) >= across:", "case false:", "vision", "TestEndsAreTheRulersOwn"},
		{"read: a stated zero for all", reading, "candidate.numberAlone", "forward := -1",
			"r.Absolute = true\n\tforward := -1", "", "TestNoZeroWithoutAStatedFront"},
		{"read: stated against the lines", scale, "Believed",
			"best.Evidence > stated.Evidence+stated.Rare+TellApart", "false", "", "TestFiftiethsOfAnInch"},
		{"read: rows run on", marks, "findRow", "f.graduations = onScale(f.graduations)", "", "vision",
			"TestRowEndsWithTheRuler"},
	}
}
