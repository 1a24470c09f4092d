package calibrate

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"leadmark/calib"
	"leadmark/calib/read"
	"leadmark/calib/rig"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/command"
	"leadmark/fit"
	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// told is an invented result that has one of everything that is printed.
func told() finished {
	plain := calib.FrameResult{Shot: read.Shot{Frame: frame.Frame{Name: "IMG_0001.JPG"}, Status: ruler.StatusRead,
		Advance: 0.16, U: 6e-5, Conditions: runfile.Conditions{Drop: 0.4}}}
	odd := plain
	odd.Name, odd.Fit.Outlier = "IMG_0002.JPG", true
	refused := func(name string) calib.FrameResult {
		return calib.FrameResult{Shot: read.Shot{Frame: frame.Frame{Name: name}, Status: ruler.StatusRefused,
			Reason: note.New("dark")}}
	}
	r := calib.Result{
		Rig: "greenhouse", Run: runfile.Run{Method: runfile.Drop},
		Fit: fit.Result{
			Lag: &fit.Estimate{Value: 0.05231, U: 0.00018, DF: 20,
				Interval95: fit.Interval{Low: 0.05194, High: 0.05268}},
			Spread: &fit.Estimate{Value: 0.0008, U: 0.0001, DF: 20,
				Interval95: fit.Interval{Low: 0.00062, High: 0.0011}},
			NextShot:   &fit.Interval{Low: 0.0506, High: 0.0540},
			TripOffset: &fit.Estimate{Value: 0.0004, U: 0.0002, DF: 20, Interval95: fit.Interval{Low: 0, High: 0.0008}},
			Advice: []fit.Advice{{Note: note.Of("shoot", "to-better", note.Of("shots", "drop", 4, 0.9, 0),
				0.18e-3, 0.11e-3)}},
		},
		Frames: []calib.FrameResult{plain, odd, refused("IMG_0003.JPG"),
			refused("IMG_0004.JPG"),
			{Shot: read.Shot{Frame: frame.Frame{Name: "IMG_0005.JPG"}, Status: ruler.StatusLeftOut,
				Reason: note.New(read.CodeSetAside, "the hand was in the beam")}}},
		Warnings: []calib.Warning{{Note: note.Of("odd-shots", "alone"), Frames: []string{"IMG_0002.JPG"}}},
	}
	return finished{result: r, page: "night1-report/report.html",
		added: &rig.Appended{Path: "rigs/greenhouse/calibrations.jsonl", Before: 2, Again: true,
			Torn: "rigs/greenhouse/calibrations.torn.1"}}
}

func TestTableForPeople(t *testing.T) {
	var out, stderr bytes.Buffer
	env := &command.Env{Stdout: &out, Stderr: &stderr}
	if err := printResult(env, told(), false); err != nil {
		t.Fatal(err)
	}
	golden(t, "result.txt", out.Bytes())
	if stderr.Len() > 0 {
		t.Errorf("on stderr: %s", &stderr)
	}
}

// golden compares text with a file of testdata; what differs is left beside it as NAME.new.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	want, err := os.ReadFile(path)
	if err == nil && bytes.Equal(got, want) {
		_ = os.Remove(path + ".new")
		return
	}
	if err := os.WriteFile(path+".new", got, 0o666); err != nil {
		t.Fatal(err)
	}
	t.Errorf("%s differs; the new text is in %s.new:\n%s", path, path, got)
}
