package main

// animalBreaks are of animals found, their outlines, noses, edges and verdicts.
func animalBreaks() []deliberate {
	const (
		edge    = "vision/edge"
		shoot   = "calib/shoot"
		subject = "vision/subject"
	)
	return []deliberate{
		{"check: an exponential's Gaussian part", edge, "blurredAt", "math.Exp(up) * 0.5", "math.Exp(up) * 0.45",
			"", "TestEdgesOf"},
		{"check: motion from a tenth to a twentieth", edge, "edgesOf", "math.Ln10*math.Hypot(m.x, m.y)",
			"3*math.Hypot(m.x, m.y)", "", "TestEdgesOf"},
		{"check: an outline six pixels too far", subject, "shape.cover", "fillHoles(s.mask)",
			"fillHoles(s.mask)\n\tif m := s.f.library.Dilate(s.mask, 6); m != nil {\n\t\ts.mask = m\n\t}", "",
			"TestFindsAnimals"},
		{"check: an outline two pixels too far", subject, "shape.cover", "fillHoles(s.mask)",
			"fillHoles(s.mask)\n\tif m := s.f.library.Dilate(s.mask, 2); m != nil {\n\t\ts.mask = m\n\t}", "",
			"TestFindsAnimals"},
		{"check: the nose at the tail", subject, "Finder.find", "h.Travel, least)",
			"animal.Point{X: -h.Travel.X, Y: -h.Travel.Y}, least)", "", "TestFindsAnimals"},
		{"check: antennae are the nose", subject, "shape.nose", "s.body.Pix", "s.mask.Pix", "", "TestFindsAnimals"},
		{"check: a nose four pixels aside", subject, "shape.nose", "return s.place(at)",
			"at.X += 4 * travel.X\n\treturn s.place(at)", "", "TestFindsAnimals"},
		{"check: nothing is cut", subject, "shape.sides", "< 0.5", "< -0.5", "", "TestFindsAnimals"},
		{"check: what is near the edge is cut", subject, "shape.sides", "< 0.5", "< 30", "", "TestFindsAnimals"},
		{"check: cut by the wrong side", subject, "shape.sides", "animal.Left, animal.Right,",
			"animal.Right, animal.Left,", "", "TestFindsAnimals"},
		{"check: noise is an animal", subject, "difference.threshold",
			"max(leastTones, sureSigmas*f.sigma/1.538*1.5)",
			"max(0.1*leastTones, 0.1*sureSigmas*f.sigma/1.538*1.5)", "", "TestFindsAnimals"},
		{"check: shadows are animals", subject, "difference.threshold", "!f.isShadow(i)", "i >= 0", "",
			"TestFindsAnimals"},
		{"check: a speck is an animal", subject, "leastArea", "0.02", "0.0002", "", "TestFindsAnimals"},
		{"check: half of the animals are too small", subject, "leastArea", "0.02", "0.3", "", "TestFindsAnimals"},
		{"check: the second animal is left out", subject, "secondAnimal", "0.2", "1.2", "", "TestFindsAnimals"},
		{"check: another light is an animal", subject, "difference.compare", "toneTables(gains(back, pic))",
			"toneTables([3]float64{1, 1, 1})", "", "TestFindsAnimals"},
		{"check: focus and motion exchanged", shoot, "Sharpness", "round >= e.Motion", "round < e.Motion", "",
			"Test"},
		{"check: shake along the travel", shoot, "Sharpness", ") < math.Sqrt2/2", ") > math.Sqrt2/2", "", "Test"},
		{"check: the least limit times three", shoot, "leastLimit", "3.0", "9.0", "", "Test"},
		{"check: half the blur", edge, "edgesOf", "e.Blur, e.Motion = m.sigma,", "e.Blur, e.Motion = m.sigma/2,",
			"", "Test"},
	}
}
