package check

import (
	"context"
	"fmt"

	"leadmark/calib/shoot"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/output"
	"leadmark/cmd/leadmark/report"
	"leadmark/vision/subject"
)

// writeResults writes what was asked for and says so. What takes long comes first, so that a command
// that is stopped there has written little else; the files in the photographer's own folders come
// last.
func writeResults(ctx context.Context, env *command.Env, scene *subject.Finder, r shoot.Result, out output.Folder,
	o options) (notes []string, err error) {
	cut := ""
	if o.cutouts != "" {
		n, err := cutouts(ctx, env, scene, r, o.cutouts, o.force)
		if err != nil {
			return nil, err
		}
		cut = fmt.Sprintf("%d animals are cut out in %s.", n, o.cutouts)
	}
	if err := env.Written.Fill(ctx, out, "the contact sheet",
		func(dir string) error { return report.WriteShoot(dir, r) }); err != nil {
		return nil, err
	}
	if o.xmp {
		note, err := writeRatings(ctx, env, r, o.force)
		if err != nil {
			return nil, err
		}
		notes = append(notes, note)
	}
	if o.learn {
		note, err := writeLearned(ctx, env, r)
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
