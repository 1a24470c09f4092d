package calib

import (
	"context"
	"errors"
)

// Calibrate reads every frame of the run and estimates what the run can tell.
func Calibrate(ctx context.Context, run Run, folder Folder, o Options) (Result, error) {
	return Result{}, errors.New("not written yet")
}
