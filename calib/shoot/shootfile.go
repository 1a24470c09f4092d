package shoot

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"

	"leadmark/calib/input"
	"leadmark/calib/store"
	"leadmark/fit/stat"
)

// file mirrors shoot.toml; nil stands for what is left out.
type file struct {
	Rig       *string    `toml:"rig,omitempty" help:"the rig's profile"`
	Subject   *string    `toml:"subject,omitempty" help:"the subject's file, beside shoot.toml"`
	Travel    *string    `toml:"travel,omitempty" help:"way the subject moves in the picture: left, right, up, down"`
	PxPerMM   *float64   `toml:"px_per_mm,omitempty" help:"scale of the picture at the track"`
	ScaleFrom *string    `toml:"scale_from,omitempty" help:"result.json of a run taken with the camera in the same place"`
	Empty     *string    `toml:"empty,omitempty" help:"a frame of the empty set"`
	ExitPX    *[]float64 `toml:"exit_px,omitempty" help:"middle of the opening in the picture, pixels: without it heights are not told"`
	Trip      *tripFile  `toml:"trip,omitempty"`
}

type tripFile struct {
	LinePX [][]float64 `toml:"line_px,omitempty" help:"two points of the line across the track where the beam is"`
}

// Setup is what shoot.toml says. Places in pixels of the picture as displayed.
type Setup struct {
	Dir       string
	Rig       string
	Subject   string // path of the subject's file, "" where not stated
	Travel    [2]float64
	TripLine  [2][2]float64
	Scale     float64     // px per metre
	Empty     string      // file name, "" where there is none
	Exit      *[2]float64 // middle of the opening
	ScaleFile string      // where the scale came from, "" where shoot.toml states it
	Digest    string      // SHA-256 of shoot.toml and of the file of the scale, hex
	Size      [2]int      // px, width and height of that run's pictures; zero where not known
}

// FileName is the name of a shoot's description in its folder.
const FileName = "shoot.toml"

// Load reads a shoot's description from its folder. What is wrong is an *input.Error, or several
// joined.
func Load(dir string) (Setup, error) {
	path := filepath.Join(dir, FileName)
	text, err := input.ReadBounded(path, 1<<20)
	var known *input.Error
	switch {
	case errors.Is(err, fs.ErrNotExist) && !isFolder(dir):
		return Setup{}, &input.Error{File: dir, What: "there is no such folder",
			Hint: "give the folder that holds the frames of one shoot"}
	case errors.Is(err, fs.ErrNotExist):
		return Setup{}, &input.Error{File: path, What: "there is no such file",
			Hint: "a shoot is a folder of frames with shoot.toml; copy the frames there, and " +
				"write one to fill in with: leadmark check " + dir + " --start"}
	case errors.As(err, &known):
		return Setup{}, err
	case err != nil:
		return Setup{}, &input.Error{File: path, What: "cannot be read", Err: errors.Unwrap(err)}
	}
	return Parse(dir, text)
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// Parse reads the text of a shoot.toml that lies in a folder, and the result.json that it takes its
// scale from.
func Parse(dir string, text []byte) (Setup, error) {
	name := filepath.Join(dir, FileName)
	var f file
	toml, err := input.DecodeStrict(name, text, &f)
	if err != nil {
		return Setup{}, err
	}
	src := input.Source{File: toml}
	s := Setup{Dir: dir, Digest: input.Digest(text)}
	if f.Rig != nil {
		s.Rig = *f.Rig
	}
	if f.Subject != nil && *f.Subject != "" { // as --start leaves it
		s.Subject = beside(dir, *f.Subject)
	}
	if f.Empty != nil {
		s.Empty = *f.Empty
		if filepath.Base(s.Empty) != s.Empty || s.Empty == "" {
			src.Fault("empty", fmt.Sprintf("is %q; it names a frame in the shoot's folder",
				s.Empty), "copy the frame into the folder and give its name alone")
		}
	}
	s.travel(&src, f)
	s.places(&src, f)
	s.scale(&src, f)
	return s, src.Wrong.Err(name)
}

func beside(dir, path string) string {
	if filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(dir, path)
}

func (s *Setup) travel(src *input.Source, f file) {
	ways := map[string][2]float64{"right": {1, 0}, "left": {-1, 0}, "down": {0, 1}, "up": {0, -1}}
	if f.Travel == nil {
		src.Fault("travel", "is not stated",
			"the way the subject moves in the picture: left, right, up or down")
		return
	}
	way, ok := ways[*f.Travel]
	if !ok {
		src.Fault("travel", fmt.Sprintf("is %q; it is left, right, up or down", *f.Travel),
			"the way the subject moves in the picture")
	}
	s.Travel = way
}

func (s *Setup) places(src *input.Source, f file) {
	if f.ExitPX != nil {
		if len(*f.ExitPX) != 2 || !finite(*f.ExitPX) {
			src.Fault("exit_px", "is not one place", "give it as [x, y]")
		} else {
			s.Exit = &[2]float64{(*f.ExitPX)[0], (*f.ExitPX)[1]}
		}
	}
	if f.Trip == nil || f.Trip.LinePX == nil {
		return // scale_from may have it
	}
	l := f.Trip.LinePX
	if len(l) != 2 || len(l[0]) != 2 || len(l[1]) != 2 || !finite(slices.Concat(l[0], l[1])) ||
		l[0][0] == l[1][0] && l[0][1] == l[1][1] {
		src.Fault("trip.line_px", "is not two different points",
			"give it as [[2010, 0], [2010, 3999]]")
		return
	}
	s.TripLine = [2][2]float64{{l[0][0], l[0][1]}, {l[1][0], l[1][1]}}
}

func finite(x []float64) bool {
	for _, v := range x {
		if math.IsNaN(v) || math.Abs(v) > 1e6 {
			return false
		}
	}
	return true
}

// scale takes the scale, and where shoot.toml has none the trip line, from one of the two.
func (s *Setup) scale(src *input.Source, f file) {
	switch {
	case f.PxPerMM != nil && f.ScaleFrom != nil:
		src.Fault("scale_from", "and px_per_mm both state the scale", "keep one")
	case f.PxPerMM != nil:
		s.Scale = src.Number("px_per_mm", f.PxPerMM, input.Above(0, 1e5)) * 1e3
	case f.ScaleFrom != nil:
		s.ScaleFile = beside(s.Dir, *f.ScaleFrom)
		if err := s.scaleFrom(*f.ScaleFrom); err != "" {
			src.Fault("scale_from", err,
				"name the result.json that leadmark calibrate wrote for a run with the camera in "+
					"the same place")
		}
	default:
		src.Fault("px_per_mm", "is not stated",
			"give the scale of the picture at the track, or scale_from = \"result.json\" of a "+
				"run with the camera in the same place")
	}
	l := s.TripLine
	switch {
	case l == [2][2]float64{}:
		src.Fault("trip.line_px", "is not stated, or not well",
			"give two points of the line across the track where the beam is, as [[2010, 0], [2010, 3999]]")
	case s.Travel != [2]float64{} &&
		math.Abs((l[1][0]-l[0][0])*s.Travel[1]-(l[1][1]-l[0][1])*s.Travel[0]) < 1e-6*math.Hypot(l[1][0]-l[0][0],
			l[1][1]-l[0][1]):
		src.Fault("trip.line_px", "runs along the travel, not across it",
			"give two points of the line across the track where the beam is")
	}
}

// scaled is the part of a result.json that a shoot needs.
type scaled struct {
	Schema     string       `json:"schema"`
	TripLinePX [][2]float64 `json:"trip_line_px"`
	Frames     []struct {
		PxPerMM  float64 `json:"px_per_mm"`
		WidthPX  int     `json:"width_px"` // results of earlier versions have no size
		HeightPX int     `json:"height_px"`
	} `json:"frames"`
}

// scaleFrom takes the median scale of a calibration's frames, and their size, which the shoot's
// must have too; of frames of several sizes, those of the commonest. It says what is wrong, "" for
// nothing.
func (s *Setup) scaleFrom(path string) string {
	text, err := input.ReadBounded(s.ScaleFile, 64<<20)
	switch {
	case isFolder(s.ScaleFile):
		return fmt.Sprintf("names %s, which is a folder", path)
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Sprintf("names %s, which is not there, seen from this folder", path)
	case err != nil:
		return fmt.Sprintf("names %s, which cannot be read", path)
	}
	s.Digest = input.Digest([]byte(s.Digest), text)
	var r scaled
	err = json.Unmarshal(text, &r)
	if later := store.CheckSchema(r.Schema, "leadmark/result/1"); errors.Is(later, store.ErrLater) {
		return fmt.Sprintf("names %s: %v", path, later)
	} else if err != nil || later != nil {
		return fmt.Sprintf("names %s, which is no result of leadmark calibrate", path)
	}
	scales := map[[2]int][]float64{}
	for _, f := range r.Frames {
		if f.PxPerMM > 0 {
			size := [2]int{f.WidthPX, f.HeightPX}
			scales[size] = append(scales[size], f.PxPerMM)
			if len(scales[size]) > len(scales[s.Size]) {
				s.Size = size
			}
		}
	}
	all := scales[s.Size]
	if len(all) == 0 {
		return fmt.Sprintf("names %s, none of whose frames has a scale", path)
	}
	s.Scale = stat.Select(all, len(all)/2) * 1e3
	if s.TripLine == [2][2]float64{} && len(r.TripLinePX) == 2 {
		s.TripLine = [2][2]float64{r.TripLinePX[0], r.TripLinePX[1]}
	}
	return ""
}
