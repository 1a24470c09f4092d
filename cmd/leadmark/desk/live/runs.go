package live

import (
	"sync"

	"leadmark/calib/read"
	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/desk/places"
)

// Runs are the runs that are followed.
type Runs struct {
	Rigs    rig.Store
	Places  places.Places
	Look    read.LookFunc
	Shift   read.ShiftFunc
	Program func() string // tells builds apart, for what is remembered of a run

	mu   sync.Mutex
	all  map[string]*Run
	done sync.WaitGroup
}

// mostRuns bounds the runs that are followed at once; the one that nobody has looked at for
// longest makes room.
const mostRuns = 12

// Wait waits until all are left in order.
func (a *Runs) Wait() { a.done.Wait() }

// makeRoom leaves the run that no page shows and that nobody has asked for for longest; false where
// all are shown.
func (a *Runs) makeRoom() bool {
	var oldest *Run
	for _, r := range a.all {
		r.mu.Lock()
		shown := len(r.streams) > 0
		r.mu.Unlock()
		if !shown && (oldest == nil || r.used.Before(oldest.used)) {
			oldest = r
		}
	}
	if oldest == nil {
		return false
	}
	oldest.stop()
	delete(a.all, oldest.name)
	return true
}
