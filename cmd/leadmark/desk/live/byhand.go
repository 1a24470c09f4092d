package live

import (
	"context"
	"net/http"

	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/desk/reply"
)

// undoStep is what was before a change by hand.
type undoStep struct {
	before runfile.Corrections
	text   string // what the change was
}

const mostUndo = 200

func keepUndo(all []undoStep, u undoStep) []undoStep {
	if len(all) >= mostUndo {
		all = all[1:]
	}
	return append(all[:len(all):len(all)], u)
}

// Correct puts something right by hand; says is the change in words. What was corrected is on the
// disk when it returns, and the run is worked out anew.
func (r *Run) Correct(ctx context.Context, says string,
	change func(runfile.Corrections) runfile.Corrections) error {
	r.edits.Lock()
	defer r.edits.Unlock()
	before, _, err := runfile.Correct(ctx, r.Dir,
		func(old runfile.Corrections) (runfile.Corrections, error) { return change(old), nil })
	if err != nil {
		return err
	}
	r.change(func() { r.undo = keepUndo(r.undo, undoStep{before, says}) })
	r.again()
	return nil
}

// Undo takes the last change by hand back, and says which it was.
func (r *Run) Undo(ctx context.Context) (says string, err error) {
	r.edits.Lock()
	defer r.edits.Unlock()
	r.mu.Lock()
	n := len(r.undo)
	if n == 0 {
		r.mu.Unlock()
		return "", reply.Refused(http.StatusConflict, "there is nothing to take back", "")
	}
	step := r.undo[n-1]
	r.mu.Unlock()
	if _, _, err := runfile.Correct(ctx, r.Dir,
		func(runfile.Corrections) (runfile.Corrections, error) { return step.before, nil }); err != nil {
		return "", err
	}
	r.change(func() { r.undo = r.undo[:max(0, len(r.undo)-1)] })
	r.again()
	return step.text, nil
}

// Corrected is what was put right of a frame by hand, and the revision of the state it is of.
func (r *Run) Corrected(name string) (put runfile.Correction, rev int) {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.run.Corrections.Of(name), r.rev
}
