package plan

import (
	"leadmark/calib/plan/reach"
)

// Make plans. What a person must mend is an *input.Error; what cannot be had for other reasons an
// *input.NoResult. The same request gives the same plan.
func Make(req Request) (Plan, error) {
	if err := req.check(); err != nil {
		return Plan{}, err
	}
	w := &work{req: req, opt: req.Options}
	w.model = reach.New(req.Subject, req.Lag, req.delay())
	w.set = w.model.Sample(w.opt.Draws, w.opt.Seed, 2)
	var drawn int
	w.reach, drawn = w.model.Box(w.set, w.opt.Probability, w.opt.Seed)
	w.lead = w.set.Lead()
	w.drawn += w.set.Total() + drawn
	p := Plan{Request: req, Delay: req.delay(), Lead: w.lead, Reach: w.reach}
	if err := w.picture(&p); err != nil {
		return Plan{}, err
	}
	if at := w.opt.Moment; at != nil {
		mo, err := w.model.Moment(*at, req.delay(), w.opt.Seed)
		if err != nil {
			return Plan{}, err
		}
		p.Moment = &mo
	}
	if len(w.opt.Colours) > 0 {
		b := ChooseBackdrop(w.opt.Colours)
		p.Backdrop = &b
	}
	p.Paths, p.Drawn = w.model.Paths(w.opt.Seed), w.drawn
	w.warn(p)
	p.Warnings, p.Cautions = w.warnings, cautions(p)
	return p, nil
}

// picture plans framing, focus, light and chances, as far as the rig's description goes.
func (w *work) picture(p *Plan) error {
	if len(framingLacks(w.req.Rig)) > 0 {
		return nil
	}
	var err error
	if w.framing, err = frame(w.reach, w.req.Rig, w.opt); err != nil {
		return err
	}
	w.framing.Fill = w.req.Subject.Length / w.framing.Field[0]
	w.focus()
	k, known := w.settingsOf()
	w.chances = k.chances(w.set, known)
	p.Framing, p.Focus, p.Light, p.Chance = &w.framing, w.focused, w.light, w.chances
	p.Changes = w.changes()
	if k := w.chances.Keeper; k != nil {
		for _, q := range []float64{0.5, 0.9, 0.95} {
			p.Trips = append(p.Trips, Trips{q, TripsFor(k.P, q)})
		}
	}
	return nil
}

// SeenInside is the chance that a body lies inside a plan's reach as a picture shows it, from as
// many trips as the plan was made from.
func SeenInside(p Plan) reach.Seen {
	r := p.Request
	return reach.New(r.Subject, r.Lag, p.Delay).Seen(p.Reach, r.Options.Draws, r.Options.Seed)
}
