package main

// reader are the packages that read rulers, by which the issue of their numbers counts; beside are
// those whose numbers keep input safe, counted apart.
func reader() []string {
	return []string{
		"vision/marks", "vision/marks/tiles", "vision/edge", "vision/scene",
		"vision/ruler/scale", "vision/ruler/reading", "vision/ruler/coded", "vision/ruler/doubleflash",
		"calib/read", "calib/read/cache", "calib/read/moves", "calib/read/still", "calib/read/tripline",
	}
}

func beside() []string { return []string{"vision/frame", "vision/pixel"} }
