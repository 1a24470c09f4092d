package main

// limitBreaks are of the numbers that decide, as they are counted and logged.
func limitBreaks() []deliberate {
	const limits = "scripts/limits"
	return []deliberate{
		{"limits: a number that stands bare", "vision/scene", "Shift", "< shortestSide ||", "< 8 ||", limits,
			"TestNumbersDoNotGrow"},
		{"limits: a limit without a word", "vision/scene", "shortestSide",
			"// places without which two scenes cannot be compared", "", limits, "TestLimitsAreExplained"},
		{"limits: halves that are added count", limits, "walk.decides",
			"added = added || (x.Op == token.ADD || x.Op == token.SUB) && inner == ast.Node(l)", "", "", "TestRule"},
		{"limits: a derived number with its own part", limits, "walk.derived", "return names && !own", "return names", "",
			"TestRule"},
		{"limits: the wrong side is the limit", limits, "collector.extreme", "mask|1<<i", "mask|2<<i", "", "TestInstrumented"},
	}
}
