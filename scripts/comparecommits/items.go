package main

import (
	"fmt"
	"path/filepath"
)

// item is something that both programs do, in a folder of its own that has the same path for both.
type item struct {
	name     string
	material []string          // folders that are copied: of what both draw, or anywhere
	files    map[string]string // written before it begins
	steps    []step
	env      []string
	study    bool // one step, whose durations are left out
}

// step is one call of a program or script of the tree.
type step []string

// leadmark is a step of the program itself.
func leadmark(args ...string) step { return append(step{"leadmark"}, args...) }

// greenhouse is the rig that the drawings speak of, with the light that a plan asks for.
const greenhouse = `[camera]
sensor_mm = [23.5, 15.6]
pixels = [6000, 4000]
sync_s = 0.005
iso = 200
ambient_ev100 = 4.0
shutter = "mechanical"
sync = "first curtain"
[lens]
focal_mm = 60
closest_mm = 185
f_numbers = [2.8, 32]
[trigger]
beam_mm = 3
delay_ms = 0
[[flash]]
name = "key"
lights = "subject"
guide_number_m = 40
powers = ["1/1", "1/128"]
power = "1/64"
distance_mm = 300
loss_stops = 1.5
t01_us = { "1/1" = 2800, "1/64" = 45, "1/128" = 30 }
`

// byHand is a run whose advances were read elsewhere: what the fit makes of it hangs on no picture.
const (
	byHandRun = "rig = \"greenhouse\"\nmethod = \"drop\"\ntravel = \"right\"\n[ruler]\ngraduation_mm = " +
		"1.0\nfront_mm = 0.0\n" +
		"[conditions]\nu_drop_mm = 0.5\nu_drop_shot_mm = 0.4\nu_drop_common_mm = 0.5\n"
	byHandReadings = `frame,drop_mm,advance_mm,u_mm
A1.JPG,100,61.3,0.05
A2.JPG,100,59.9,0.05
A3.JPG,100,60.4,0.05
A4.JPG,200,83.1,0.05
A5.JPG,200,85.0,0.05
A6.JPG,200,84.2,0.05
A7.JPG,400,117.9,0.05
A8.JPG,400,120.6,0.05
A9.JPG,400,118.8,0.05
B1.JPG,700,155.2,0.05
B2.JPG,700,157.9,0.05
B3.JPG,700,149.0,0.05
`
)

// items are what is compared, on the folders of runs and of photographs.
func items(runs, photographs []string) []item {
	out := []item{demonstration(), shoot()}
	for _, dir := range runs {
		name := filepath.Base(dir)
		out = append(out, item{
			name: "run " + name, material: []string{dir},
			files: map[string]string{"rigs/greenhouse/rig.toml": greenhouse},
			steps: []step{leadmark("calibrate", name, "--rig", "greenhouse", "--rigs", "rigs", "--accept",
				"--goal-ms", "0.2", "--json")},
		})
	}
	for _, dir := range photographs {
		name := filepath.Base(dir)
		out = append(out, item{name: "photographs " + name, material: []string{dir},
			steps: []step{leadmark("read", name, "--json", "--out", "annotated")}})
	}
	return out
}

// demonstration is the run of leadmark demo, what follows from it, and what is printed.
func demonstration() item {
	calibrate := leadmark("calibrate", "night1", "--rigs", "rigs", "--accept")
	plan := leadmark("plan", "--rig", "greenhouse", "--rigs", "rigs")
	rig := func(args ...string) step { return append(leadmark("rig", "--rigs", "rigs"), args...) }
	return item{
		name: "demo", material: []string{"night1"},
		files: map[string]string{"rigs/greenhouse/rig.toml": greenhouse, "hand/run.toml": byHandRun,
			"hand/hand.csv": byHandReadings},
		steps: []step{
			append(calibrate, "--note", "first"),
			append(calibrate, "--json", "--goal-ms", "0.2", "--out", "again"),
			leadmark("calibrate", "hand", "--readings", "hand/hand.csv", "--rigs", "rigs", "--json", "--accept"),
			leadmark("calibrate", "night2", "--start", "--goal-ms", "0.2", "--json", "--rigs", "rigs"),
			leadmark("read", "night1", "--json", "--out", "annotated"),
			leadmark("read", "night1/IMG_0002.JPG", "--graduation-mm", "1"),
			rig("new", "orangery"),
			rig("list", "--json"),
			rig("show", "greenhouse", "--json"),
			rig("history", "greenhouse", "--json"),
			rig("history", "greenhouse", "--html", "history.html"),
			rig("compare", "greenhouse", "1", "3", "--any-setup", "--margin-ms", "1", "--json"),
			rig("restore", "greenhouse", "1", "--json"),
			rig("show", "greenhouse"),
			append(plan, "--preset", "mason-bee", "--json", "--figure", "bee.svg"),
			append(plan, "--preset", "mason-bee", "--moment", "35", "--figure", "bee.png"),
			leadmark("plan", "--preset", "mason-bee", "--write", "bee.toml"),
			leadmark("plan", "--subject", "bee.toml", "--motion", "hop", "--elevation-deg", "45", "--lag-ms",
				"52", "--spread-ms", "0.8", "--json"),
			leadmark("plan", "--presets"),
			leadmark("ruler", "--pdf", "ruler.pdf", "--svg", "ruler.svg", "--slates", "slates.pdf", "--drop-mm",
				"100,200"),
		},
	}
}

// shoot is the shoot of leadmark demo --shoot.
func shoot() item {
	assumed := []string{"--lag-ms", "38.4", "--spread-ms", "0.7", "--rigs", "rigs"}
	return item{
		name: "shoot", material: []string{"bees1"}, files: map[string]string{"rigs/greenhouse/rig.toml": greenhouse},
		steps: []step{
			append(leadmark("check", "bees1", "--json", "--learn", "--xmp", "--cutouts", "cutouts"), assumed...),
			append(leadmark("plan", "--rig", "greenhouse", "--subject", "bees1/bee-learned.toml", "--json"),
				assumed...),
		},
	}
}

// drawings are what both commits draw, to be compared and looked at, and the runs that one draws alone.
func drawings(short bool, runs []int) (both, alone []step) {
	both = []step{leadmark("demo", "night1"), leadmark("demo", "bees1", "--shoot")}
	if !short {
		both = append(both, step{"drawruns", "-seed", "1", "-gallery", "-out", "gallery"},
			step{"drawshoot", "-frames", "4", "-width", "900", "drawn"})
	}
	for _, n := range runs {
		alone = append(alone, step{"drawruns", "-seed", "1", "-only", fmt.Sprint(n), "-out", "."})
	}
	return both, alone
}
