package vision

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"leadmark/frame"
	"leadmark/ruler"
)

type runTruth struct {
	Lag    float64       `json:"lag_ms"`
	Trip   [2][2]float64 `json:"trip_line_px"`
	Grad   float64       `json:"graduation_mm"`
	Front  float64       `json:"front_mm"`
	Frames []struct {
		File     string
		Readable bool
		Why      string
		Adv      float64    `json:"advance_mm"`
		AtLine   float64    `json:"at_line_mm"`
		FrontPX  [2]float64 `json:"front_px"`
		Blur     float64    `json:"blur_px"`
		PxPerMM  float64    `json:"px_per_mm"`
	}
}

func TestDevRuns(t *testing.T) {
	dirs, _ := filepath.Glob(os.Getenv("RUNS"))
	for _, d := range dirs {
		var rt runTruth
		b, err := os.ReadFile(d + "/truth.json")
		if err != nil {
			continue
		}
		if err := json.Unmarshal(b, &rt); err != nil {
			t.Fatal(err)
		}
		toml, _ := os.ReadFile(d + "/run.toml")
		toward := ruler.Point{Y: 1}
		for k, v := range map[string]ruler.Point{"up": {Y: -1}, "left": {X: -1}, "right": {X: 1}} {
			if strings.Contains(string(toml), `travel = "`+k+`"`) {
				toward = v
			}
		}
		front := rt.Front / 1000
		spec := ruler.Spec{Graduation: rt.Grad / 1000, Front: &front, Toward: toward}
		if strings.Contains(string(toml), `"band"`) {
			i := strings.Index(string(toml), "band_mm")
			var v float64
			fmt.Sscanf(string(toml)[i:], "band_mm = %g", &v)
			spec.Band, spec.BandAt = true, v/1000
		}
		line := ruler.Line{A: ruler.Point{X: rt.Trip[0][0], Y: rt.Trip[0][1]}, B: ruler.Point{X: rt.Trip[1][0], Y: rt.Trip[1][1]}}
		var ea, ef []float64
		good, read, bad := 0, 0, 0
		for _, f := range rt.Frames {
			fr, ref := frame.Open(filepath.Join(d, f.File))
			if ref != nil {
				fmt.Println(f.File, ref)
				continue
			}
			g, err := decodeGray(fr)
			if err != nil {
				fmt.Println(f.File, err)
				continue
			}
			s := sight(g, ruler.Hint{})
			r := ruler.Interpret(s, spec)
			if f.Readable {
				good++
			}
			msg := fmt.Sprintf("  %s %-5v %-18s %-8s", f.File, f.Readable, f.Why, r.Status)
			if r.Status == ruler.StatusRead && r.Front != nil {
				rd, u, _, _ := r.Scale.At(line)
				e := rd*1000 - rt.Front - f.AtLine
				dp := math.Abs(ruler.Point{X: f.FrontPX[0], Y: f.FrontPX[1]}.Sub(r.Front.At).Dot(r.Scale.Dir))
				msg += fmt.Sprintf(" adv %.2f err %.3f u %.3f front err %.2f px u %.2f edge-front %.3f px/mm %.2f rms %.2f n %d %s", f.AtLine, e, u*1000, dp, r.Front.U, r.Front.Reading*1000-rt.Front, r.PxPerM/1000, r.Scale.ResidualPX, len(r.Graduations), r.Unit)
				if f.Readable {
					read++
					ea = append(ea, math.Abs(e))
					ef = append(ef, dp)
				} else {
					bad++
				}
			} else {
				msg += r.Reason.String()
			}
			if os.Getenv("V") != "" {
				fmt.Println(msg)
			}
		}
		sort.Float64s(ea)
		sort.Float64s(ef)
		q := func(v []float64, p float64) float64 {
			if len(v) == 0 {
				return -1
			}
			return v[int(p*float64(len(v)-1))]
		}
		fmt.Printf("%-28s read %d/%d bad %d adv med %.3f p95 %.3f max %.3f front med %.2f p95 %.2f\n", filepath.Base(d), read, good, bad, q(ea, .5), q(ea, .95), q(ea, 1), q(ef, .5), q(ef, .95))
	}
}
