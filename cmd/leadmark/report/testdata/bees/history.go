package bees

import (
	"fmt"
	"time"

	"leadmark/calib/record"
	"leadmark/calib/rig"
)

// History is a rig's invented history: lags in ms, one a night.
func History(lags ...float64) rig.History {
	var h rig.History
	for i, lag := range lags {
		e := rig.Entry{Accepted: time.Date(2026, 5, 3+i, 22, 0, 0, 0, time.UTC), RunSHA256: fmt.Sprint(i),
			Note: "night <b>" + fmt.Sprint(i+1)}
		e.Lag = &record.LagEntry{ValueMS: lag, UMS: 0.18, DF: 20, Interval95: &[2]float64{lag - 0.37, lag + 0.37}}
		e.Spread = &record.SpreadEntry{ValueMS: 0.8, Interval95: &[2]float64{0.62, 1.1}}
		e.Setup = &rig.Setup{Body: "Bench & Co <b>", FocalMM: 100}
		h.Entries = append(h.Entries, e)
	}
	return h
}

// Nights are lags of a history whose last lies beyond the limits.
func Nights() []float64 {
	return []float64{52.3, 52.1, 52.4, 52.2, 52.5, 52.3, 52.1, 52.2, 52.4, 52.3, 52.2, 52.3, 54.9}
}
