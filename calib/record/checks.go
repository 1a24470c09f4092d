package record

import (
	"leadmark/calib"
	"leadmark/calib/words"
	"leadmark/fit/onelag"
	"leadmark/fit/unit"
	"leadmark/vision/ruler"
)

// OddEntry says which shots are odd and what the estimates would be with each counted in full.
type OddEntry struct {
	Frames      []string     `json:"frames"`
	Lag         *LagEntry    `json:"lag,omitempty"`
	Spread      *SpreadEntry `json:"spread,omitempty"`
	LagChangeMS *float64     `json:"lag_change_ms,omitempty"` // lag with every shot minus the lag as reported
	SpreadRatio *float64     `json:"spread_ratio,omitempty"`  // spread with every shot over the spread as reported
}

// oddEntry names the frames; the fit counts shots, which are the frames that were read.
func oddEntry(r calib.Result) *OddEntry {
	o := r.Fit.Odd
	if o == nil {
		return nil
	}
	e := &OddEntry{Frames: []string{}}
	read := readFrames(r.Frames)
	for _, k := range o.Shots {
		if k >= 0 && k < len(read) {
			e.Frames = append(e.Frames, read[k].Name)
		}
	}
	if o.Lag != nil {
		e.Lag = lagEntry(*o.Lag)
		e.LagChangeMS = optional(o.LagChange*1e3, unit.Decimals(o.Lag.U*1e3))
	}
	if o.Spread != nil {
		e.Spread = spreadEntry(*o.Spread)
	}
	if o.SpreadRatio > 0 {
		e.SpreadRatio = some(o.SpreadRatio)
	}
	return e
}

// readFrames lists the frames that were read, in the order of the fit's shots.
func readFrames(frames []calib.FrameResult) []calib.FrameResult {
	var read []calib.FrameResult
	for _, f := range frames {
		if f.Status == ruler.StatusRead {
			read = append(read, f)
		}
	}
	return read
}

// CheckEntry is one test of whether the run has one lag.
type CheckEntry struct {
	Name      string   `json:"name"`
	Tested    bool     `json:"tested"`
	Statistic *float64 `json:"statistic,omitempty"`
	P         *float64 `json:"p_value,omitempty"`
	Threshold *float64 `json:"threshold,omitempty"` // the alarm is raised at this p_value or below
	Alarm     bool     `json:"alarm"`
	EffectMS  *float64 `json:"effect_ms,omitempty"`
	UEffectMS *float64 `json:"u_effect_ms,omitempty"`
	Text      string   `json:"text"`
}

func checkEntry(c onelag.Check) CheckEntry {
	e := CheckEntry{Name: c.Name, Tested: c.Tested, Alarm: c.Alarm, Text: words.Sentence(c.Note)}
	if !c.Tested {
		return e
	}
	e.Statistic, e.P, e.Threshold = some(c.Statistic), some(c.P), some(c.Threshold)
	if c.EffectU > 0 && finite(c.EffectU) {
		p := unit.Decimals(c.EffectU * 1e3)
		e.EffectMS, e.UEffectMS = optional(c.Effect*1e3, p), optional(c.EffectU*1e3, p)
	}
	return e
}
