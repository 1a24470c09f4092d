package summary

import (
	"leadmark/calib"
	"leadmark/vision/ruler"
)

func tally(r calib.Result) (read, refused, leftOut, outliers int) {
	for _, f := range r.Frames {
		switch f.Status {
		case ruler.StatusRead:
			read++
			if f.Fit.Outlier {
				outliers++
			}
		case ruler.StatusRefused:
			refused++
		default:
			leftOut++
		}
	}
	return
}
