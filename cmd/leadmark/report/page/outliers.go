package page

import (
	"fmt"

	"leadmark/calib"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/vision/ruler"
)

// outliersView sets the estimates as reported beside those with every outlier counted in full.
type outliersView struct {
	Sum    string
	Rows   []outlierRowView
	Frames []outlierFrameView
	More   int // odd shots that are not named here
}

type outlierRowView struct{ Name, Without, With, Change string }

type outlierFrameView struct {
	frameLink
	Why string
}

// outlierViews is nil where no shot is an outlier.
func outlierViews(r calib.Result, pictures bool) *outliersView {
	o := r.Fit.Odd
	if o == nil || len(o.Shots) == 0 {
		return nil
	}
	v := &outliersView{Sum: fmt.Sprintf("%s of %d do not follow the others. None was left out: they are weighed "+
		"down in the answer, and this is what each would be with every shot counted in full.",
		phrase.Count(len(o.Shots), "shot"), len(r.Fit.Shots))}
	if len(o.Shots) == 1 {
		v.Sum = fmt.Sprintf("1 shot of %d does not follow the others. It was not left out: it is weighed "+
			"down in the answer, and this is what each would be with it counted in full.", len(r.Fit.Shots))
	}
	if r.Fit.Lag != nil && o.Lag != nil {
		change := phrase.Digits(o.LagChange/phrase.MS.SI, phrase.Decimals(phrase.Half(*r.Fit.Lag)/phrase.MS.SI)) + " ms"
		if o.LagChange > 0 {
			change = "+" + change
		}
		v.Rows = append(v.Rows, outlierRowView{"Lag", phrase.MS.PlusMinus(r.Fit.Lag.Value, phrase.Half(*r.Fit.Lag)),
			phrase.MS.PlusMinus(o.Lag.Value, phrase.Half(*o.Lag)), change})
	}
	if r.Fit.Spread != nil && o.Spread != nil {
		row := outlierRowView{"Spread", phrase.MS.At(r.Fit.Spread.Value, phrase.Half(*r.Fit.Spread)),
			phrase.MS.At(o.Spread.Value, phrase.Half(*o.Spread)), ""}
		if o.SpreadRatio > 0 {
			row.Change = "× " + two(o.SpreadRatio, false, "")
		}
		v.Rows = append(v.Rows, row)
	}
	v.Frames = outlierFrames(r, pictures)
	v.More = len(o.Shots) - len(v.Frames)
	return v
}

// outlierFrames are the first odd shots.
func outlierFrames(r calib.Result, pictures bool) []outlierFrameView {
	odd, to := map[int]bool{}, linksOf(r, pictures)
	for _, at := range r.Fit.Odd.Shots {
		odd[at] = true
	}
	var out []outlierFrameView
	k := 0
	for i, f := range r.Frames {
		if f.Status != ruler.StatusRead {
			continue
		}
		if odd[k] && len(out) < mostNames {
			out = append(out, outlierFrameView{frameLink{f.Name, to.to(i)}, phrase.Sentence(words.Sentence(f.Fit.Why))})
		}
		k++
	}
	return out
}
