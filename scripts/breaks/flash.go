package main

// flashBreaks are of rulers that two flashes show.
func flashBreaks() []deliberate {
	const flashes = "vision/ruler/doubleflash"
	return []deliberate{
		{"flashes: moved the wrong way", flashes, "comb.add", "= -s.slope, s.height", "= s.slope, s.height", "", "TestMovement"},
		{"flashes: floor ten times too large", flashes, "search.result", "floor := placing /", "floor := 10 * placing /", "",
			"TestMovement"},
		{"flashes: one comb is enough", flashes, "search.best",
			"return best, one.cost-best.fit.cost > sure && max(best.gain, 1/best.gain) < mostGain",
			"return best, one.cost < 1e9", "", "TestOneCombIsNoTwin"},
		{"flashes: any way is forward", flashes, "Fit", "forward: float64(spec.Forward(row.Dir))", "forward: 1", "", "TestNoWay"},
		{"flashes: a negative reach", flashes, "Face.part", "max(1, min(len(b), int(reach/2/f.Step)))", "int(reach/2/f.Step)",
			"", "FuzzFit"},
		{"scale: slope by B turned", "vision/ruler/scale", "ByIndex.IndexSlopes", "-l.Half / den, -l.Half * m / den",
			"-l.Half / den, l.Half * m / den", "", "TestIndexSlopes"},
	}
}
