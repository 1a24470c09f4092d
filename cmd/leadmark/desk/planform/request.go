package planform

import (
	"fmt"
	"net/http"
	"slices"

	"leadmark/calib/plan"
	"leadmark/calib/plan/predict"
	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/desk/reply"
)

func (p *Planner) request(r *http.Request) (plan.Request, error) {
	q := r.URL.Query()
	req := plan.Request{Options: plan.DefaultOptions()}
	values, err := subjectValues(q)
	if err != nil {
		return req, err
	}
	if req.Subject, err = p.Subject(q.Get("subject"), q.Get("preset"), values); err != nil {
		return req, err
	}
	if err := planOptions(r, &req.Options); err != nil {
		return req, err
	}
	lag, err := reply.Number(r, "lag_ms")
	if err != nil {
		return req, err
	}
	spread, err := reply.Number(r, "spread_ms")
	if err != nil {
		return req, err
	}
	var assumed *predict.Law
	if lag != nil {
		sd := 0.0
		if spread != nil {
			sd = *spread
		}
		if !(*lag > 0 && *lag <= 60000 && sd >= 0 && sd <= 60000) {
			return req, reply.Refused(http.StatusUnprocessableEntity,
				"the lag must be above 0 ms and its spread not below 0", "52 and 0.8 are a beginning")
		}
		law := predict.AssumedLag(*lag*1e-3, sd*1e-3)
		assumed = &law
	}
	if name := q.Get("rig"); name != "" {
		if err := req.UseRig(p.Rigs, name, assumed, p.Now()); err != nil {
			return req, err
		}
		return req, setHeads(r, &req.Rig)
	}
	if assumed == nil {
		return req, reply.Refused(http.StatusUnprocessableEntity, "neither a rig nor a lag is chosen",
			"choose a calibrated rig, or assume a lag and its spread")
	}
	req.Lag = *assumed
	return req, nil
}

// planOptions are what a plan may be asked for besides.
func planOptions(r *http.Request, o *plan.Options) error {
	for _, v := range []struct {
		name  string
		scale float64
		to    *float64
	}{{"f_number", 1, &o.FNumber}, {"field_mm", 1e-3, &o.Field}, {"iso", 1, &o.ISO},
		{"probability", 1, &o.Probability}} {
		x, err := reply.Number(r, v.name)
		if err != nil {
			return err
		}
		if x != nil {
			*v.to = *x * v.scale
		}
	}
	for _, v := range []struct {
		name  string
		scale float64
		to    **float64
	}{{"delay_ms", 1e-3, &o.Delay}, {"moment_mm", 1e-3, &o.Moment}} {
		x, err := reply.Number(r, v.name)
		if err != nil {
			return err
		}
		if x != nil {
			y := *x * v.scale
			*v.to = &y
		}
	}
	return nil
}

// setHeads puts the heads where a page has them: power_1, distance_1_mm and on.
func setHeads(r *http.Request, p *rig.Profile) error {
	p.Flash = slices.Clone(p.Flash)
	for i := range p.Flash {
		if text := r.URL.Query().Get(fmt.Sprintf("power_%d", i+1)); text != "" {
			share, ok := rig.ParsePower(text)
			if !ok {
				return reply.Refused(http.StatusUnprocessableEntity, "the power of "+p.Flash[i].Name+" is not one",
					"write it as 1/64")
			}
			p.Flash[i].Power = share
		}
		d, err := reply.Number(r, fmt.Sprintf("distance_%d_mm", i+1))
		if err != nil {
			return err
		}
		if d != nil {
			if !(*d > 0 && *d < 1e5) {
				return reply.Refused(http.StatusUnprocessableEntity,
					"the distance of "+p.Flash[i].Name+" must be above 0 mm", "check the value and its unit")
			}
			p.Flash[i].Distance = *d * 1e-3
		}
	}
	return nil
}
