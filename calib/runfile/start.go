package runfile

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"time"

	"leadmark/calib/input"
	"leadmark/calib/store"
	"leadmark/fit/stat"
	"leadmark/vision/frame"
)

// StartReport says what Start wrote and what a person has to fill in.
type StartReport struct {
	Written []string // names of the files made
	Kept    []string // names of the files that were there before and were left alone
	ToFill  []string // what the frames could not tell, a sentence each
}

// Start writes run.toml and shots.csv into the folder of a run, filled in as far as the frames and
// the overrides tell. A file that is there already is left as it is; when both are, it is an
// *input.Error. Slates that were found fill shots.csv in, and a plan the shots that no slate speaks
// of.
func Start(dir string, frames []frame.Frame, known Known, o Overrides) (StartReport, error) {
	if err := checkFolder(dir); err != nil {
		return StartReport{}, err
	}
	filled := fillFromSlates(frames, known.Slates)
	if known.Plan != nil {
		filled.left = planRemarks(filled.fillFromPlan(frames, *known.Plan))
	}
	if _, given := o.Value("method"); !given && filled.method != "" {
		o = o.with("method", string(filled.method))
	}
	run, missing, err := startRun(o)
	if err != nil {
		return StartReport{}, err
	}
	var r StartReport
	texts := map[string][]byte{RunFileName: run, ShotsFileName: startShots(frames, run, filled)}
	for _, name := range []string{RunFileName, ShotsFileName} {
		made, err := store.Create(store.System(), filepath.Join(dir, name), texts[name])
		switch {
		case err != nil && !errors.Is(err, store.ErrFaster):
			return r, err
		case made:
			r.Written = append(r.Written, name)
		default:
			r.Kept = append(r.Kept, name)
		}
	}
	if len(r.Written) == 0 {
		return r, &input.Error{File: dir, What: "has its run.toml and shots.csv already; they were left as " +
			"they are", Hint: "edit them, or move them away to start anew"}
	}
	if filled.all { // the conditions, which startRun names last, are there
		missing = missing[:len(missing)-1]
	}
	r.ToFill = missing
	if filled.planned && len(frames) > 0 {
		r.ToFill = append(r.ToFill, "shots.csv holds the conditions as planned, in the order of the frames: "+
			"correct every line that was shot otherwise")
	}
	if len(frames) == 0 {
		r.ToFill = append(r.ToFill, "the folder holds no frames yet: copy them in, then list them in shots.csv")
	}
	return r, nil
}

// startRun writes run.toml: what is known as keys, what is not as comments to fill in.
func startRun(o Overrides) (text []byte, missing []string, err error) {
	var f File
	if _, err := o.Apply(&f); err != nil {
		return nil, nil, err
	}
	var b bytes.Buffer
	b.WriteString("# What was done while these frames were taken. Lengths in millimetres, times in\n# " +
		"milliseconds, speeds in metres per second. A line that begins with # is not read.\n\n")
	for _, s := range Settings() {
		startKey(&b, s, o)
	}
	if f.Method == nil {
		missing = append(missing, "method in run.toml: drop or push")
	}
	if f.Travel == nil {
		missing = append(missing, "travel in run.toml: the way the front end moves in the picture")
	}
	switch {
	case f.Method != nil && *f.Method == string(Push):
		missing = append(missing, "speed_mps of each push in shots.csv or run.toml, or a group for pushes at "+
			"one unknown speed")
	default:
		missing = append(missing, "drop_mm of each frame in shots.csv, or one for all in run.toml")
	}
	return b.Bytes(), missing, nil
}

// startKey writes one key with its comment, and its table's header before the first of a table.
func startKey(b *bytes.Buffer, s input.Setting, o Overrides) {
	name := input.LastPart(s.Key)
	if table, _, inside := strings.Cut(s.Key, "."); inside && !bytes.Contains(b.Bytes(), []byte("["+table+"]")) {
		fmt.Fprintf(b, "\n[%s]  # %s\n", table, input.Help(reflect.TypeFor[File](), table))
	}
	value, given := o.Value(s.Key)
	switch {
	case given:
		fmt.Fprintf(b, "%s = %s  # %s\n", name, tomlText(s.Key, value), s.Help)
	case s.Key == "method" || s.Key == "travel":
		fmt.Fprintf(b, "%s = \"\"  # FILL IN: %s\n", name, s.Help)
	default:
		fmt.Fprintf(b, "# %s =   # %s\n", name, s.Help)
	}
}

// tomlText writes the text of a flag as a TOML value.
func tomlText(key, value string) string {
	t := input.TypeAt(reflect.TypeFor[File](), strings.Split(key, "."))
	if t.Kind() == reflect.Pointer && t.Elem().Kind() == reflect.String {
		return input.BasicString(value)
	}
	if x, err := strconv.ParseFloat(strings.TrimSpace(value), 64); err == nil {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	return strings.TrimSpace(value)
}

// startShots writes shots.csv: a line a frame, the times beside, a comment before each batch.
func startShots(frames []frame.Frame, run []byte, filled startCells) []byte {
	columns := []string{"frame", "drop_mm", "delay_ms", "use", "why"}
	if bytes.Contains(run, []byte("\nmethod = \"push\"")) {
		columns = []string{"frame", "speed_mps", "delay_ms", "group", "use", "why"}
	}
	var b bytes.Buffer
	b.WriteString("# One line a frame. An empty cell takes the value of run.toml; use is yes or no, and why\n" +
		"# says why not. Lines and columns that begin with # are not read.\n")
	b.WriteString(csvLine(append(append([]string(nil), columns...), "# taken")))
	begin := batches(frames)
	for i, f := range frames {
		if begin[i] != "" {
			fmt.Fprintf(&b, "# %s\n", begin[i])
		}
		if remark, slate := filled.remarks[f.Name]; slate {
			fmt.Fprintf(&b, "# %s %s\n", oneLine(f.Name), remark)
			continue
		}
		cells := make([]string, len(columns)+1)
		for k, column := range columns {
			cells[k] = filled.cells[f.Name][column]
		}
		cells[0] = f.Name
		cells[len(columns)-2] = "yes"
		cells[len(columns)] = clock(f.Taken)
		b.WriteString(csvLine(cells))
	}
	for _, line := range filled.left {
		b.WriteString(line + "\n")
	}
	return b.Bytes()
}

// csvLine writes one line of a table. A first cell that begins with # is quoted, so that the
// line is not taken for a comment.
func csvLine(cells []string) string {
	quoted := make([]string, len(cells))
	for i, c := range cells {
		if strings.ContainsAny(c, ",\"\r\n") || i == 0 && strings.HasPrefix(c, "#") || strings.TrimSpace(c) != c {
			c = `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
		}
		quoted[i] = c
	}
	return strings.Join(quoted, ",") + "\n"
}

func clock(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format("15:04:05.999")
}

// batches says before which frames a batch seems to begin: the pause before them is more than
// four times the usual one and at least half a minute, as when the ruler is set to a new height.
func batches(frames []frame.Frame) []string {
	says := make([]string, len(frames))
	var gaps []float64
	for i := 1; i < len(frames); i++ {
		if g, ok := gap(frames[i-1], frames[i]); ok {
			gaps = append(gaps, g)
		}
	}
	if len(gaps) < 3 {
		return says
	}
	long := max(30, 4*stat.Select(gaps, len(gaps)/2))
	n := 1
	for i := 1; i < len(frames); i++ {
		if g, ok := gap(frames[i-1], frames[i]); ok && g >= long {
			n++
			says[i] = fmt.Sprintf("batch %d? a pause of %s lies before it", n,
				time.Duration(g*float64(time.Second)).Round(time.Second))
		}
	}
	if n > 1 {
		says[0] = "batch 1? the pauses between frames suggest " + strconv.Itoa(n) + " batches: fill in what was changed"
	}
	return says
}

// gap is the time between two frames in seconds, where both state one.
func gap(a, b frame.Frame) (float64, bool) {
	if a.Taken.IsZero() || b.Taken.IsZero() {
		return 0, false
	}
	return b.Taken.Sub(a.Taken).Seconds(), true
}
