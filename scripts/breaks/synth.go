package main

// synthBreaks are of the pictures that the reading is judged by, and of their judge.
func synthBreaks() []deliberate {
	const (
		camera  = "vision/synth/camera"
		collage = "vision/synth/collage"
		crops   = "vision/synth/crops"
		plane   = "vision/synth/plane"
		study   = "scripts/rulerstudy"
		texture = "vision/synth/texture"
	)
	return []deliberate{
		{"synth: noise without shot noise", camera, "Sensor.expose", "max(0, e)+read*read", "read*read", "",
			"TestNoise"},
		{"synth: 4:2:2 is 4:2:0", camera, "Camera.Encode", "e.down = 1", "e.down = 2", "", "TestJPEG"},
		{"synth: red and blue swapped", camera, "Mosaic.otherAt", "y*w+x, c/2", "y*w+x, 1-c/2", "", "TestColours"},
		{"synth: sharpening softens", camera, "Camera.sharpen", "(bright[i] - soft)", "(soft - bright[i])", "",
			"TestSharpening"},
		{"synth: yaw the other way", plane, "Pose.Map", "sr*cy-cr*sy*st, sy*ct", "sr*cy-cr*sy*st, -sy*ct", "",
			"TestForeshortening"},
		{"synth: double print the other way", crops, "Ruler.at", "+ r.shift()", "- r.shift()", "",
			"TestGraduations"},
		{"synth: the end lies elsewhere", crops, "Ruler.body", "a := ramp(p, hp)", "a := ramp(p-0.1, hp)", "",
			"TestFrontEnd"},
		{"synth: movement costs no contrast", crops, "Comb.Counts", "comb *= max(0, math.Sin(m)/m)", "", "",
			"TestWhatCounts"},
		{"synth: noise hides nothing", crops, "Comb.Counts",
			"comb >= leastSNR*c.Noise/math.Sqrt(c.Long*c.Pitch/2) &&", "", "", "TestWhatCounts"},
		{"synth: covered ones count", crops, "Scene.counts", "s.covered(p, q) || ", "", "", "TestCovers"},
		{"synth: a covered end is readable", crops, "Scene.sides", "s.covered(p, q) || ", "", "", "TestCovers"},
		{"synth: an uneven backdrop is none", crops, "End.Why", " || step*step < uneven", "", "", "TestWhatEnd"},
		{"synth: rulers go backwards", collage, "Scene.toFrame", "d := s.forward", "d := -s.forward", "",
			"TestCollages"},
		{"synth: truth 2 px beside", collage, "Ruler.flatRow", "flat: in.At(p)",
			"flat: in.At(p.Add(plane.Point{X: 2}))", "", "TestCollages"},
		{"synth: no reading is wrong", study, "fitTo", "math.Abs(v-f.offset))", "0*math.Abs(v-f.offset))", "",
			"TestJudge"},
		{"synth: any zero will do", study, "fitted.counts", "return math.Abs(f.offset) <= most", "return true", "",
			"TestJudge|TestCounts"},
		{"synth: no end is false", study, "outcome.ends", "\tx.end = true\n", "", "", "TestJudge"},
		{"synth: no phantoms", study, "outcome.ends", "\t\tx.phantom = true\n", "", "", "TestJudge"},
		{"synth: reading nothing is fine", study, "outcome.bad", "return x.read", "return false", "", "TestJudge"},
		{"synth: periods 3 % short", texture, "wave", "f := math.Floor(v)", "v *= 1.03\n\tf := math.Floor(v)", "",
			"TestPeriods"},
	}
}
