package check

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"leadmark/calib/shoot"
	"leadmark/calib/shoot/sidecar"
	"leadmark/calib/store"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/output"
)

// writeRatings writes each frame's rating beside it.
func writeRatings(ctx context.Context, env *command.Env, r shoot.Result, force bool) (note string, err error) {
	n, kept := 0, 0
	store.Cleanup(store.System(), r.Setup.Dir)
	ratings := output.Kind{One: "1 rating", Many: "ratings", Where: " beside the frames in " + r.Setup.Dir}
	for _, f := range r.Frames {
		if f.Status == shoot.Refused {
			continue
		}
		path := filepath.Join(r.Setup.Dir, sidecar.Name(f.Name))
		err := env.Written.Step(ratings, path, func() (int, error) {
			return output.Renewed(path, func() error { return sidecar.WriteRating(ctx, path, f.Rating, force) })
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
	if err := store.Settle(store.System(), r.Setup.Dir); err != nil {
		return "", err
	}
	note = fmt.Sprintf("%d sidecars hold the ratings", n)
	if kept > 0 {
		note += fmt.Sprintf("; %d had another and were left alone (--force replaces it)", kept)
	}
	return note + ".", nil
}
