package record

import (
	"time"

	"leadmark/calib"
	"leadmark/calib/words"
	"leadmark/fit/unit"
	"leadmark/vision/ruler"
)

func frameEntry(f calib.FrameResult) FrameEntry {
	e := FrameEntry{
		File: f.Name, Status: string(f.Status), Reason: words.Reason(f.Reason), Taken: takenText(f.Taken, f.ZoneKnown),
		ExposureS: unit.Stated(f.Exposure), FNumber: unit.Stated(f.FNumber), ISO: f.ISO,
		FocalMM: unit.Stated(f.Focal * 1e3),
		WidthPX: f.Width, HeightPX: f.Height, Corrected: f.Corrected,
	}
	if f.Status != ruler.StatusRead {
		return e
	}
	p := unit.Decimals(f.U * 1e3)
	e.AdvanceMM, e.UMM = optional(f.Advance*1e3, p), optional(f.U*1e3, p)
	e.ResidualMM = optional(f.Fit.Residual*1e3, p)
	e.Outlier = f.Fit.Outlier
	if f.Speed > 0 {
		p := unit.Decimals(f.SpeedU)
		e.SpeedMPS, e.USpeedMPS = optional(f.Speed, p), optional(f.SpeedU, p)
	}
	if f.PxPerM > 0 {
		e.FrontPX, e.PxPerMM = new(pixel(f.FrontPX)), new(unit.Significant(f.PxPerM*1e-3, 6))
	}
	return e
}

// takenText writes a time with what is known of it: without an offset it is a wall clock's.
func takenText(t time.Time, zone bool) string {
	switch {
	case t.IsZero():
		return ""
	case zone:
		return t.Format("2006-01-02T15:04:05.999999999Z07:00")
	}
	return t.Format("2006-01-02T15:04:05.999999999")
}
