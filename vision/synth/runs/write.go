package runs

import (
	"context"
	"encoding/json"
	"fmt"
	"leadmark/fit/parallel"
	"math/rand/v2"
	"os"
	"path/filepath"
	"time"

	"leadmark/vision/synth/jpegfile"
	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/photo"
)

// WriteRun draws a run into a folder, which is made where it is missing: the frames, run.toml,
// shots.csv and truth.json. The same RunSpec gives the same files.
func WriteRun(dir string, r RunSpec) (RunTruth, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return RunTruth{}, fmt.Errorf("making the run's folder: %w", err)
	}
	r = r.withDefaults()
	rnd := newRand(r.Seed)
	shots := r.shots(rnd)
	base := r.layout(rnd)
	scenes := make([]photo.Scene, len(shots))
	for i := range shots {
		scenes[i] = r.scene(base, &shots[i], rnd, i+1)
	}
	if r.Trip == "still" {
		rest, s := shot{odd: "still"}, base
		s.Pose, s.Speed, s.Twin = photo.Pose{Advance: base.StatedLine}, 0, 0
		shots, scenes = append([]shot{rest}, shots...), append([]photo.Scene{s}, scenes...)
	}
	truth := r.truthHead(&base)
	frames, err := r.draw(dir, shots, scenes)
	if err != nil {
		return RunTruth{}, err
	}
	truth.Frames = frames
	return truth, r.describe(dir, shots, &base, truth)
}

func newRand(seed int64) *rand.Rand { return rand.New(rand.NewPCG(uint64(seed), 0x6c656164)) }

// withDefaults fills in what a RunSpec may leave out.
func (r RunSpec) withDefaults() RunSpec {
	if r.Width == 0 || r.Height == 0 {
		r.Width, r.Height = 2400, 1600
	}
	if r.Quality == 0 {
		r.Quality = 88
	}
	if r.Rig == "" {
		r.Rig = "greenhouse"
	}
	if r.Softness == 0 {
		r.Softness = 0.7
	}
	if r.T01 == 0 {
		r.T01 = 120e-6
	}
	if r.Orientation == 0 {
		r.Orientation = 1
	}
	if len(r.Look.Scales) == 0 {
		r.Look = looks.WhitePlastic()
	}
	return r
}

func (r *RunSpec) truthHead(base *photo.Scene) RunTruth {
	t := RunTruth{Name: r.Name, LagMS: r.Lag * 1e3, SpreadMS: r.Spread * 1e3, AdvanceFrom: "true-trip-point",
		TripLinePX:   pairs(base.Track.Line(base.Camera, 0, r.Look.Width/2)),
		GraduationMM: r.Look.Graduation() / mm, FrontMM: r.Look.Front() / mm}
	if r.Trip != "" {
		t.AdvanceFrom, t.TripOffset = "stated-line", r.TripOffset/mm
		l := pairs(base.Track.Line(base.Camera, base.StatedLine, r.Look.Width/2))
		t.StatedPX = &l
	}
	return t
}

// draw renders the frames, as many at a time as there are processors, and writes them.
func (r *RunSpec) draw(dir string, shots []shot, scenes []photo.Scene) ([]FrameTruth, error) {
	stages := map[photo.Camera]*photo.Set{} // one, but where the camera was knocked
	for i := range scenes {
		if c := scenes[i].Camera; stages[c] == nil {
			stages[c] = photo.NewSet(&scenes[i])
		}
	}
	frames := make([]FrameTruth, len(shots))
	err := parallel.Try(context.Background(), len(shots), 0, func(_ context.Context, i int) (err error) {
		frames[i], err = r.drawOne(dir, stages[scenes[i].Camera], &shots[i], &scenes[i], i)
		return err
	})
	return frames, err
}

func (r *RunSpec) drawOne(dir string, stage *photo.Set, sh *shot, s *photo.Scene, i int) (FrameTruth, error) {
	im, t := stage.Render(s)
	offset := -s.StatedLine
	taken := time.Date(2026, 5, 3, 10, 21, 7, 350e6,
		time.FixedZone("", 2*3600)).Add(time.Duration(i) * 23170 * time.Millisecond)
	if sh.odd == "weak" {
		taken = taken.Add(-20 * time.Second) // too soon after the frame before
	}
	x := jpegfile.Exif{Make: "Greenhouse", Model: "Test camera", Taken: taken, Exposure: s.Exposure, FNumber: 11,
		ISO:   200,
		Focal: focal, Fired: !s.Unfired, Orientation: r.Orientation}
	path := filepath.Join(dir, fileName(i))
	err := jpegfile.Write(path, im, x, r.Quality)
	if sh.odd == "cut" && err == nil {
		t.Readable, t.Why = false, "cut-file"
		err = cutInHalf(path)
	}
	return truthOf(fileName(i), sh, t, offset, s.Twin > 0), err
}

// cutInHalf leaves the first half of a file, as a card pulled too early does.
func cutInHalf(path string) error {
	info, err := os.Stat(path)
	if err != nil {
		return fmt.Errorf("cutting a frame: %w", err)
	}
	return os.Truncate(path, info.Size()/2)
}

// describe writes run.toml, shots.csv and truth.json.
func (r *RunSpec) describe(dir string, shots []shot, base *photo.Scene, truth RunTruth) error {
	text, err := json.MarshalIndent(truth, "", " ")
	if err != nil {
		return fmt.Errorf("writing truth.json: %w", err)
	}
	for name, data := range map[string][]byte{
		"run.toml": []byte(r.toml(base)), "shots.csv": []byte(r.csv(shots)), "truth.json": append(text, '\n'),
	} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			return fmt.Errorf("writing the run: %w", err)
		}
	}
	return nil
}
