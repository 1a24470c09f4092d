package report

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"

	"leadmark/calib"
	"leadmark/calib/record"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit/unit"
)

// csvHeader names the keys of a frame in result.json, then the conditions of the shot.
const csvHeader = "file,status,reason,advance_mm,u_mm,front_x_px,front_y_px,px_per_mm,residual_mm,outlier," +
	"taken,exposure_s,f_number,iso,focal_mm,drop_mm,speed_mps,delay_ms,group,twin_speed_mps,u_twin_speed_mps,corrected"

// readingsCSV is one line a frame: all of its entry in result.json, with the same roundings, and
// the conditions it was shot under, then the speed that a twin flash measured and what a person
// corrected. What is not known is an empty cell.
func readingsCSV(r calib.Result) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString(csvHeader + "\n")
	w := csv.NewWriter(&b)
	for i, e := range record.NewDocument(r).Frames {
		c := r.Frames[i].Conditions
		var x, y string
		if e.FrontPX != nil {
			x, y = number(e.FrontPX[0]), number(e.FrontPX[1])
		}
		if err := w.Write([]string{e.File, e.Status, e.Reason, optional(e.AdvanceMM), optional(e.UMM), x, y,
			optional(e.PxPerMM), optional(e.ResidualMM), strconv.FormatBool(e.Outlier), e.Taken, known(e.ExposureS),
			known(e.FNumber), known(float64(e.ISO)), known(e.FocalMM),
			known(unit.Fixed(c.Drop/phrase.MM.SI, 6)), known(c.Speed),
			number(unit.Fixed(c.Delay/phrase.MS.SI, 6)), c.Group, optional(e.SpeedMPS), optional(e.USpeedMPS),
			strings.Join(e.Corrected, " ")}); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// optional prints a value that may be absent.
func optional(v *float64) string {
	if v == nil {
		return ""
	}
	return number(*v)
}

// known prints a value whose zero means that it is not known.
func known(v float64) string {
	if v == 0 {
		return ""
	}
	return number(v)
}
