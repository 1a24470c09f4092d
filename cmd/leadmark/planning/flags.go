package planning

import "github.com/spf13/pflag"

func planFlags(f *pflag.FlagSet, o *Options) {
	s := &o.Settings
	f.StringVar(&o.Rig, "rig", "", "the rig's profile: camera, lens, heads and its calibration in force")
	f.StringVar(&o.Subject, "subject", "", "the subject's file, subject.toml")
	f.StringVar(&o.preset, "preset", "", "a group of animals to begin with")
	f.BoolVar(&o.presets, "presets", false, "list the groups of animals there are")
	f.StringVar(&o.write, "write", "", "with --preset: write its subject.toml to this file, and stop")
	f.Float64Var(&o.Lag, "lag-ms", 0, "assumed lag, ms, in the place of a calibration")
	f.Float64Var(&o.Spread, "spread-ms", 0, "assumed spread from shot to shot, ms")
	f.Float64Var(&o.Delay, "delay-ms", 0, "added delay, ms (default: the rig's)")
	f.Float64Var(&s.Probability, "probability", s.Probability, "that the reach holds the whole body")
	f.Float64Var(&o.moment, "moment", 0, "where the nose is to be at the flash, mm past the trip point")
	f.Float64Var(&o.field, "field-mm", 0, "width of the picture's field, mm: what it holds (default: the "+
		"smallest for the reach)")
	f.StringVar(&s.Orientation, "orientation", "",
		"landscape or portrait (default: the one that needs the smaller field)")
	f.Float64Var(&s.FNumber, "f-number", 0, "aperture (default: the one that balances best)")
	f.Float64Var(&s.ISO, "iso", 0, "ISO speed (default: the rig's, and what the steps of the power ask for)")
	f.Float64Var(&s.Exposure, "exposure-s", 0, "shutter time, s (default: the rig's sync time)")
	f.Float64Var(&o.print, "print-mm", s.PrintLong*1e3, "long side of the print on which the blur is judged, mm")
	f.StringVar(&o.colour, "colour", "", "the subject's colour, such as #c08040: blue or green backdrop")
	f.StringVar(&o.colourFrom, "colour-from", "", "a picture whose middle shows the subject, for the same")
	f.StringVar(&o.figure, "figure", "", "file to draw the set to, .svg or .png")
	f.BoolVar(&o.dark, "dark", false, "draw a .png for a dark screen (an .svg fits both)")
	f.IntVar(&s.Draws, "draws", s.Draws, "trips drawn")
	f.Uint64Var(&s.Seed, "seed", s.Seed, "of the drawing: the same seed gives the same plan")
	f.BoolVar(&o.json, "json", false, "print plan.json on standard output")
}
