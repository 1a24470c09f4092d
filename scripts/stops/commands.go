package main

import "time"

// command is one to be stopped.
type command struct {
	name    string
	before  [][]string // run first
	args    []string
	length  time.Duration // moments are drawn up to here; 0: as long as it takes
	twice   bool          // a second signal follows: the first is the command's own end
	mayFail bool          // it may end with status 1 of its own
}

func commands() []command {
	lag := []string{"--lag-ms", "38.4", "--spread-ms", "0.7"}
	with := func(args ...string) []string { return append(args, lag...) }
	return []command{
		{name: "calibrate", args: []string{"calibrate", "night"}},
		{name: "calibrate --accept", args: []string{"calibrate", "night", "--accept"}},
		{name: "calibrate again", before: [][]string{{"calibrate", "night"}},
			args: []string{"calibrate", "night", "--goal-ms", "0.2"}},
		{name: "calibrate --start", args: []string{"calibrate", "bees", "--start"}},
		{name: "calibrate, 1 MB corrections", args: []string{"calibrate", "long"}},
		{name: "calibrate --follow", args: []string{"calibrate", "night", "--follow"}, length: 4 * time.Second,
			twice: true, mayFail: true},
		{name: "check", args: with("check", "bees")},
		{name: "check, all of it", args: with("check", "bees", "--learn", "--xmp", "--cutouts", "cuts")},
		{name: "check again", before: [][]string{with("check", "bees", "--xmp", "--cutouts", "cuts")},
			args: with("check", "bees", "--learn", "--xmp", "--cutouts", "cuts", "--force", "--probability", "0.8")},
		{name: "check --start", args: []string{"check", "night", "--start"}},
		{name: "read --out", args: []string{"read", "night", "--out", "far/drawn"}},
		{name: "plan", args: with("plan", "--preset", "mason-bee", "--figure", "bee.png", "--draws", "200000")},
		{name: "plan --write", args: []string{"plan", "--preset", "mason-bee", "--write", "bee.toml"}},
		{name: "ruler", args: []string{"ruler", "--pdf", "r.pdf", "--svg", "r.svg", "--slates", "s.pdf",
			"--drop-mm", "100,200,300,400", "--delay-ms", "0,1,2,3,4,5"}},
		{name: "demo", args: []string{"demo", "far/night3"}},
		{name: "demo --shoot", args: []string{"demo", "bees3", "--shoot"}},
		{name: "manpages", args: []string{"manpages", "man1"}},
		{name: "rig new", args: []string{"rig", "new", "cellar"}},
		{name: "rig restore", before: [][]string{{"calibrate", "night", "--accept"},
			{"calibrate", "night", "--accept", "--u-drop-mm", "1"}},
			args: []string{"rig", "restore", "greenhouse", "1"}},
		{name: "desk", args: []string{"desk", "--no-open"}, length: 2 * time.Second},
	}
}
