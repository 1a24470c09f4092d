package planform

import (
	"net/http"
	"sync"
	"time"

	"leadmark/calib/plan"
	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/desk/places"
)

// Planner plans what pages ask for. It remembers the last few plans by what was asked, so that
// answer and drawing are of one and the same.
type Planner struct {
	Rigs   rig.Store
	Now    func() time.Time
	Places places.Places // where subjects' files lie

	mu   sync.Mutex
	all  map[string]plan.Plan
	last []string
}

const mostPlans = 8

// Plan plans what a page asks for, as leadmark plan does with the same values.
func (p *Planner) Plan(r *http.Request) (plan.Plan, error) {
	p.mu.Lock()
	defer p.mu.Unlock() // one at a time: each takes both processors
	key := r.URL.Query().Encode()
	if made, ok := p.all[key]; ok {
		return made, nil
	}
	if err := r.Context().Err(); err != nil {
		return plan.Plan{}, err // the page has asked for another meanwhile
	}
	req, err := p.request(r)
	if err != nil {
		return plan.Plan{}, err
	}
	made, err := plan.Make(req)
	if err != nil {
		return made, err
	}
	if p.all == nil {
		p.all = map[string]plan.Plan{}
	}
	p.all[key] = made
	if p.last = append(p.last, key); len(p.last) > mostPlans {
		delete(p.all, p.last[0])
		p.last = p.last[1:]
	}
	return made, nil
}
