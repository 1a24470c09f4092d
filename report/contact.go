package report

import (
	"bytes"
	"cmp"
	"encoding/base64"
	"encoding/csv"
	"fmt"
	"html/template"
	"slices"
	"strconv"
	"strings"

	"leadmark/animal"
	"leadmark/shoot"
)

// The files that ShootFiles makes.
const (
	ShootFile   = "shoot.json"
	framesFile  = "frames.csv"
	contactFile = "contact.html"
)

// ShootFiles are the files of a check by their names: shoot.json, a table of the frames and the contact sheet, best first.
func ShootFiles(r shoot.Result) (map[string][]byte, error) {
	text, err := shoot.Encode(r)
	if err != nil {
		return nil, err
	}
	page, err := contactSheet(r)
	if err != nil {
		return nil, err
	}
	table, err := framesTable(r)
	return map[string][]byte{ShootFile: text, contactFile: page, framesFile: table}, err
}

// WriteShoot writes the files of a check to a folder, each in one step, over earlier ones of ours alone.
func WriteShoot(dir string, r shoot.Result) error {
	files, err := ShootFiles(r)
	if err != nil {
		return err
	}
	for name, sign := range map[string]string{ShootFile: shoot.Schema, contactFile: contactSign, framesFile: "file,status,rating"} {
		if err := replace(dir+"/"+name, files[name], sign); err != nil {
			return err
		}
	}
	return nil
}

// framesTable is frames.csv; a cell is empty where the frame does not tell.
func framesTable(r shoot.Result) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rows := [][]string{{"file", "status", "rating", "whole", "in_reach", "lead_mm", "height_mm", "sharp", "cause", "edge_width_px", "motion_blur_px", "clipped_fraction", "backdrop_clean", "reason"}}
	for _, f := range shoot.NewDocument(r).Frames {
		rows = append(rows, []string{f.File, string(f.Status), strconv.Itoa(f.Rating), yesNo(f.Whole), yesNo(f.InReach), cell(f.LeadMM), cell(f.HeightMM),
			yesNo(f.Sharp), f.Cause, cell(f.EdgeWidth), cell(f.MotionBlur), cell(f.Clipped), yesNo(f.Clean), f.Reason})
	}
	err := w.WriteAll(rows)
	return b.Bytes(), err
}

func yesNo(b *bool) string {
	switch {
	case b == nil:
		return ""
	case *b:
		return "yes"
	}
	return "no"
}

func cell(x *float64) string {
	if x == nil {
		return ""
	}
	return strconv.FormatFloat(*x, 'f', -1, 64)
}

const contactSign = "leadmark contact sheet"

// contactCard is one frame on the sheet.
type contactCard struct {
	Name, Rated, Text string
	URL               template.URL
	W, H              int
	Outline, Nose     string
}

// Best orders frames by rating, then by how sharp they are, then by name.
func best(frames []shoot.FrameResult) []shoot.FrameResult {
	all := slices.Clone(frames)
	width := func(f shoot.FrameResult) float64 {
		if !f.Measured {
			return 1e9
		}
		return f.Animal.Edges.Width
	}
	slices.SortStableFunc(all, func(a, b shoot.FrameResult) int {
		return cmp.Or(cmp.Compare(b.Rating, a.Rating), cmp.Compare(width(a), width(b)))
	})
	return all
}

func card(f shoot.FrameResult) contactCard {
	c := contactCard{Name: f.Name, Rated: fmt.Sprintf("%s%s %d of 5", strings.Repeat("●", f.Rating), strings.Repeat("○", 5-f.Rating), f.Rating), Text: frameText(f), W: f.Thumb.Width, H: f.Thumb.Height}
	if len(f.Thumb.JPEG) > 0 {
		c.URL = template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(f.Thumb.JPEG))
	}
	if f.Animal == nil || f.Thumb.Scale == 0 {
		return c
	}
	at := func(p animal.Point) string {
		return fmt.Sprintf("%.1f %.1f", (p.X+0.5)/f.Thumb.Scale, (p.Y+0.5)/f.Thumb.Scale)
	}
	var b strings.Builder
	step := max(1, len(f.Animal.Outline)/160)
	for i := 0; i < len(f.Animal.Outline); i += step {
		b.WriteString(map[bool]string{true: "M", false: "L"}[i == 0] + at(f.Animal.Outline[i]))
	}
	c.Outline, c.Nose = b.String()+"Z", "M"+at(f.Animal.Nose)+"m-5 0h10m-5 -5v10"
	return c
}

// frameText is a frame in a few words.
func frameText(f shoot.FrameResult) string {
	switch {
	case f.Status == shoot.Refused:
		return f.Reason.Text
	case f.Animal == nil:
		return "no animal"
	}
	var all []string
	lead := fmt.Sprintf("lead %.1f mm", f.Lead*1e3)
	if f.AtLeast {
		lead = fmt.Sprintf("lead %.1f mm or more", f.Lead*1e3)
	}
	all = append(all, lead)
	if f.Whole() {
		all = append(all, "whole")
	} else {
		all = append(all, "cut: "+strings.Join(f.Animal.Touches, ", "))
	}
	switch {
	case !f.Measured:
		all = append(all, "sharpness not told")
	case f.Sharp:
		all = append(all, "sharp")
	default:
		all = append(all, "not sharp: "+f.Cause)
	}
	if f.InReach {
		all = append(all, "in reach")
	}
	if f.Reason.Code != "" {
		all = append(all, f.Reason.Code)
	}
	return strings.Join(all, " · ")
}

// contactSheet is contact.html.
func contactSheet(r shoot.Result) ([]byte, error) {
	var cards []contactCard
	for _, f := range best(r.Frames) {
		cards = append(cards, card(f))
	}
	var b bytes.Buffer
	err := contactPage.Execute(&b, struct {
		Sign  string
		Lines []string
		Cards []contactCard
	}{contactSign, ShootLines(r), cards})
	return b.Bytes(), err
}

// ShootLines says in sentences what a shoot came to.
func ShootLines(r shoot.Result) []string {
	count := map[shoot.Status]int{}
	keep := 0
	for _, f := range r.Frames {
		count[f.Status]++
		if f.Rating >= 4 {
			keep++
		}
	}
	lines := []string{fmt.Sprintf("%d frames: an animal in %d, none in %d, %d refused; %d rated 4 or 5.", len(r.Frames), count[shoot.Found], count[shoot.Empty], count[shoot.Refused], keep)}
	if a := r.Agreement; a != nil {
		lines = append(lines, fmt.Sprintf("Inside the reach: %d of %d (95 %% interval %.0f to %.0f %%); the plan expects %.0f %%. Where the plan holds, chance alone is as far off in %s %% of shoots.", a.Inside, a.N, 100*a.Interval95[0], 100*a.Interval95[1], 100*a.Expected, twoDigits(100*a.P)))
	}
	if l := r.Learned; l != nil {
		lines = append(lines, fmt.Sprintf("Speed at the trip point: %.3g m/s (95 %% interval %.3g to %.3g), standard deviation from trip to trip %.2g m/s, from %d animals%s.", l.Speed, l.Speed95[0], l.Speed95[1], l.SpeedSD, l.N, goneText(l.Censored)))
		if h := l.Heading; h != nil {
			lines = append(lines, fmt.Sprintf("Heading: %s above the horizontal, standard deviation %s.", degreesText(h.Elevation, h.Known.U), degreesText(h.SD, 0)))
		}
	} else {
		lines = append(lines, "No speed was learned: "+r.NotLearned+".")
	}
	return append(lines, r.Advice...)
}

// twoDigits prints a share in per cent, without an exponent.
func twoDigits(percent float64) string {
	if percent >= 10 {
		return fmt.Sprintf("%.0f", percent)
	}
	return fmt.Sprintf("%.2g", percent)
}

// goneText says of how many animals only a least lead is known.
func goneText(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(", %d of them known only to have passed the picture's edge", n)
}

func degreesText(x, u float64) string {
	const deg = 57.29577951308232
	if u == 0 {
		return fmt.Sprintf("%.2g°", x*deg)
	}
	return fmt.Sprintf("%.1f° (standard uncertainty %.1f°)", x*deg, u*deg)
}

var contactPage = template.Must(template.New("contact").Parse(`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="generator" content="{{.Sign}}"><meta name="viewport" content="width=device-width">
<title>Contact sheet</title>
<style>
:root{color-scheme:light dark}
body{font:16px/1.45 system-ui,sans-serif;margin:1.5rem;max-width:90rem}
ul.sheet{list-style:none;padding:0;display:grid;gap:1rem;grid-template-columns:repeat(auto-fill,minmax(17rem,1fr))}
li.card{border:1px solid #8888;border-radius:6px;padding:.5rem}
figure{margin:0;position:relative}
figure img,figure svg{width:100%;height:auto;display:block}
figure svg{position:absolute;inset:0}
path{fill:none;stroke:#fff;stroke-width:1.2;vector-effect:non-scaling-stroke}
path.case{stroke:#000;stroke-width:3;stroke-opacity:.6}
</style></head><body>
<h1>Contact sheet, best first</h1>
{{range .Lines}}<p>{{.}}</p>
{{end}}<ul class="sheet">
{{range .Cards}}<li class="card">{{if .URL}}<figure><img src="{{.URL}}" width="{{.W}}" height="{{.H}}" alt="{{.Name}}">{{if .Outline}}<svg viewBox="0 0 {{.W}} {{.H}}" aria-hidden="true"><path class="case" d="{{.Outline}}"/><path d="{{.Outline}}"/><path class="case" d="{{.Nose}}"/><path d="{{.Nose}}"/></svg>{{end}}</figure>{{end}}<b>{{.Name}}</b> <span>{{.Rated}}</span><br>{{.Text}}</li>
{{end}}</ul></body></html>
`))
