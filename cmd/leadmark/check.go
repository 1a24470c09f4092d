package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/shoot"
	"leadmark/calib/shoot/sidecar"
	"leadmark/calib/store"
	"leadmark/cmd/leadmark/report"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/vision/animal"
	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
	"leadmark/vision/subject"
)

// checkOptions are the flags of check.
type checkOptions struct {
	planOptions
	out, cutouts            string
	json, xmp, force, learn bool
	start                   bool
}

func (a *app) checkCommand() *cobra.Command {
	o := checkOptions{planOptions: planOptions{settings: plan.DefaultOptions()}}
	c := &cobra.Command{
		Use:   "check SHOOT",
		Short: "Hold the real frames against the plan, rate them and learn the subject's speed",
		Long: "SHOOT is a folder of frames of the real subject, with shoot.toml: rig, subject, travel, " +
			"[trip] line_px, and\n" +
			"the scale. Says of each frame whether the animal is whole, sharp and inside the reach, whether " +
			"the plan held,\n" +
			"and what the frames teach of the subject's speed. Picture files are never changed. With --start " +
			"it writes\n" +
			"a shoot.toml to fill in.",
		Example: "  leadmark demo bees1 --shoot\n  leadmark check bees1 --lag-ms 38.4 --spread-ms 0.7\n  " +
			"leadmark check bees1 --lag-ms 38.4 --spread-ms 0.7 --learn --xmp",
		Args: oneArg("the folder of the shoot"),
	}
	f := c.Flags()
	f.StringVar(&o.rig, "rig", "", "the rig's profile (default: shoot.toml's)")
	f.StringVar(&o.subject, "subject", "", "the subject's file (default: shoot.toml's)")
	f.Float64Var(&o.lag, "lag-ms", 0, "assumed lag, ms, in the place of a calibration")
	f.Float64Var(&o.spread, "spread-ms", 0, "assumed spread from shot to shot, ms")
	f.Float64Var(&o.delay, "delay-ms", 0, "added delay at the shoot, ms (default: the rig's)")
	f.Float64Var(&o.settings.Probability, "probability", o.settings.Probability,
		"that the plan's reach holds the whole body")
	f.StringVar(&o.out, "out", "", "folder for shoot.json, frames.csv and the contact sheet (default: SHOOT-check)")
	f.BoolVar(&o.json, "json", false, "print shoot.json on standard output")
	f.BoolVar(&o.xmp, "xmp", false, "write each frame's rating to an XMP sidecar beside it; one that has a "+
		"rating is left alone")
	f.StringVar(&o.cutouts, "cutouts", "", "folder for the animals cut out at full size, PNG with opacity")
	f.BoolVar(&o.force, "force", false, "with --xmp or --cutouts: replace ratings or cut-outs that are there")
	f.BoolVar(&o.learn, "learn", false, "write a new subject file with the learned speed beside the old one")
	f.BoolVar(&o.start, "start", false, "write a shoot.toml to fill in, and stop")
	c.RunE = a.begin(func(c *cobra.Command, args []string) error {
		o.given, o.stated = f.Changed, settings(c)
		if o.start {
			return a.startShoot(args[0], o)
		}
		return a.check(c.Context(), args[0], o)
	})
	return c
}

func (a *app) check(ctx context.Context, dir string, o checkOptions) error {
	s, p, err := a.checkPlan(ctx, dir, &o)
	if err != nil {
		return err
	}
	a.written.around(o.out)
	out, err := chooseFolder(o.out, dir, "-check", isCheck)
	if err != nil {
		return err
	}
	if o.cutouts != "" {
		if err := apart(o.cutouts, dir); err != nil {
			return err
		}
	}
	r, scene, err := a.checkFrames(ctx, s, p, o)
	if err != nil {
		return err
	}
	r.Warnings = append(r.Warnings, p.Request.Notes...)
	notes, err := a.checkWrites(ctx, scene, r, out, o)
	if err != nil {
		return err
	}
	if o.json {
		text, err := shoot.Encode(r)
		if err != nil {
			return err
		}
		_, err = a.stdout.Write(text)
		return err
	}
	return a.tellShoot(r, append(notes, "Frame by frame: "+filepath.Join(out.path, "contact.html")))
}

// isCheck reports whether a folder holds an earlier check of ours.
func isCheck(dir string) bool {
	text, err := input.ReadBounded(filepath.Join(dir, report.ShootFile), 256<<20)
	return err == nil && shoot.IsDocument(text)
}

// checkPlan reads the shoot and plans it anew from the rig and the subject as they are now.
func (a *app) checkPlan(ctx context.Context, dir string, o *checkOptions) (shoot.Setup, plan.Plan, error) {
	s, err := shoot.Load(dir)
	if err != nil {
		return s, plan.Plan{}, err
	}
	if o.rig == "" {
		o.rig = s.Rig
	}
	if o.subject == "" {
		o.subject = s.Subject
	}
	s.Subject = o.subject
	switch {
	case o.subject == "":
		return s, plan.Plan{}, &input.Error{File: filepath.Join(dir, shoot.FileName),
			What: "subject is not stated", Hint: "name the subject's file in shoot.toml or with --subject"}
	case o.force && !o.xmp && o.cutouts == "":
		return s, plan.Plan{}, &input.Error{File: "--force", What: "is for ratings in sidecars and for cut-outs",
			Hint: "add --xmp or --cutouts"}
	case s.Rig != "" && o.given("lag-ms") && !o.given("rig"):
		if store, err := a.store(); err != nil || !store.Has(o.rig) {
			o.rig = "" // only named, and its lag is assumed
		}
	}
	if err := o.validate(); err != nil {
		return s, plan.Plan{}, err
	}
	req, err := a.planRequest(ctx, o.planOptions)
	if err != nil {
		return s, plan.Plan{}, err
	}
	req.Options.PrintLong = plan.DefaultOptions().PrintLong
	p, err := plan.Make(req)
	return s, p, err
}

// checkFrames looks at the frames.
func (a *app) checkFrames(ctx context.Context, s shoot.Setup, p plan.Plan,
	o checkOptions) (shoot.Result, *subject.Finder, error) {
	folder, err := listFolder(ctx, s.Dir)
	if err != nil {
		return shoot.Result{}, nil, err
	}
	frames, empty, err := withoutEmpty(folder.Frames, s)
	if err != nil {
		return shoot.Result{}, nil, err
	}
	scene, err := subject.Learn(ctx, native.Library{}, frames, empty)
	if err != nil {
		return shoot.Result{}, nil, &input.NoResult{What: err.Error()}
	}
	look := func(ctx context.Context, f frame.Frame, length float64, travel [2]float64) (animal.Sighting, error) {
		return scene.Look(ctx, f, animalHint(length, travel))
	}
	bar := a.progress("looking at the frames")
	defer bar.end()
	r, err := shoot.Check(ctx, s, frames, folder.Refused,
		shoot.Options{Look: look, Plan: p, Settings: o.stated, Calibrated: a.calibrated(o), Progress: bar.step})
	return r, scene, err
}

// calibrated is when the calibration in force was accepted; zero where the lag is assumed.
func (a *app) calibrated(o checkOptions) time.Time {
	if o.rig == "" || o.given("lag-ms") {
		return time.Time{}
	}
	store, err := a.store()
	if err != nil {
		return time.Time{}
	}
	h, err := store.History(o.rig)
	if err != nil {
		return time.Time{}
	}
	if f, ok := h.InForce(); ok {
		return f.Entry.Accepted
	}
	return time.Time{}
}

// animalHint is what is known of an animal before looking; length in pixels.
func animalHint(length float64, travel [2]float64) subject.Hint {
	return subject.Hint{Length: length, Travel: animal.Point{X: travel[0], Y: travel[1]}}
}

// withoutEmpty takes the frame of the empty set from the others.
func withoutEmpty(frames []frame.Frame, s shoot.Setup) ([]frame.Frame, *frame.Frame, error) {
	if s.Empty == "" {
		return frames, nil, nil
	}
	i := slices.IndexFunc(frames, func(f frame.Frame) bool { return f.Name == s.Empty })
	if i < 0 {
		return nil, nil, &input.Error{File: filepath.Join(s.Dir, shoot.FileName),
			What: fmt.Sprintf("empty names %s, which is not among the frames that can be read", s.Empty),
			Hint: "give the name of a frame of the empty set in this folder, or take the key out"}
	}
	empty := frames[i]
	return slices.Delete(slices.Clone(frames), i, i+1), &empty, nil
}

// checkWrites writes what was asked for and says so. What takes long comes first, so that a command
// that is stopped there has written little else; the files in the photographer's own folders come
// last.
func (a *app) checkWrites(ctx context.Context, scene *subject.Finder, r shoot.Result, out outDir,
	o checkOptions) (notes []string, err error) {
	cut := ""
	if o.cutouts != "" {
		n, err := a.cutouts(ctx, scene, r, o.cutouts, o.force)
		if err != nil {
			return nil, err
		}
		cut = fmt.Sprintf("%d animals are cut out in %s.", n, o.cutouts)
	}
	if err := a.fill(ctx, out, "the contact sheet",
		func(dir string) error { return report.WriteShoot(dir, r) }); err != nil {
		return nil, err
	}
	if o.xmp {
		note, err := a.writeRatings(ctx, r, o.force)
		if err != nil {
			return nil, err
		}
		notes = append(notes, note)
	}
	if o.learn {
		note, err := a.writeLearned(ctx, r)
		if err != nil {
			return nil, err
		}
		notes = append(notes, note)
	}
	if cut != "" {
		notes = append(notes, cut)
	}
	return notes, nil
}

// writeRatings writes each frame's rating beside it.
func (a *app) writeRatings(ctx context.Context, r shoot.Result, force bool) (note string, err error) {
	n, kept := 0, 0
	store.Sweep(store.System(), r.Setup.Dir)
	ratings := kind{"1 rating", "ratings", " beside the frames in " + r.Setup.Dir}
	for _, f := range r.Frames {
		if f.Status == shoot.Refused {
			continue
		}
		path := filepath.Join(r.Setup.Dir, sidecar.Name(f.Name))
		err := a.written.step(ratings, path, func() (int, error) {
			return renewed(path, func() error { return sidecar.WriteRating(ctx, path, f.Rating, force) })
		})
		switch {
		case errors.Is(err, sidecar.ErrRated):
			kept++
		case err != nil:
			return "", err
		default:
			n++
		}
	}
	note = fmt.Sprintf("%d sidecars hold the ratings", n)
	if kept > 0 {
		note += fmt.Sprintf("; %d had another and were left alone (--force replaces it)", kept)
	}
	return note + ".", nil
}

// writeLearned writes what the shoot taught of the subject.
func (a *app) writeLearned(ctx context.Context, r shoot.Result) (note string, err error) {
	old, err := input.ReadBounded(r.Setup.Subject, 1<<20)
	if err != nil {
		return "", err
	}
	text, err := shoot.NewSubject(r.Setup.Subject, old, r, a.now())
	if err != nil {
		return "", err
	}
	path := ""
	a.written.begin("a learned subject beside " + r.Setup.Subject)
	path, err = shoot.WriteSubject(ctx, r.Setup.Subject, text)
	n := 0
	if err == nil {
		n = 1
	}
	a.written.done(kind{one: "the learned subject " + path}, n)
	return "The learned subject: " + path, err
}

// tellShoot prints what a shoot came to.
func (a *app) tellShoot(r shoot.Result, notes []string) error {
	p := &printer{w: a.stdout}
	for _, l := range summary.Shoot(r) {
		p.linef("%s", hanging("", l))
	}
	if len(r.Warnings) > 0 {
		p.linef("\nWarnings")
		for _, w := range r.Warnings {
			p.linef("%s", hanging("  ", w.Code+": "+w.Text))
		}
	}
	p.linef("")
	for _, n := range notes {
		p.linef("%s", n)
	}
	return p.err
}
