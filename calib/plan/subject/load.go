package subject

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"path/filepath"
	"reflect"
	"slices"
	"sort"
	"strings"

	"leadmark/calib/input"
	"leadmark/calib/plan/predict"
)

// Largest subject.toml and largest course that are read, in bytes.
const (
	maxSubject = 1 << 20
	maxCourse  = 16 << 20
)

// Settings lists the keys of subject.toml that flags can stand in for.
func Settings() []input.Setting { return input.Settings(reflect.TypeFor[File]()) }

// Load reads a subject.toml with the flags that stand in for its keys, and the course it names.
// An empty path stands for no file: then the flags say it all. What is wrong is an *input.Error, or
// several joined.
func Load(path string, o input.Overrides) (Subject, error) {
	if path == "" {
		return finish(Parse("the subject", nil, o))
	}
	text, err := readFile(path, maxSubject,
		"give the subject's file; leadmark plan --preset NAME --write FILE makes one to begin "+
			"with, --presets lists their names")
	if err != nil {
		return Subject{}, err
	}
	s, err := Parse(path, text, o)
	if _, flag := o.Value("course"); err == nil && s.CourseFile != "" && !flag &&
		!filepath.IsAbs(s.CourseFile) {
		// it lies beside the file that names it
		s.CourseFile = filepath.Join(filepath.Dir(path), s.CourseFile)
	}
	return finish(s, err)
}

// finish reads the course that a subject names.
func finish(s Subject, err error) (Subject, error) {
	if err != nil || s.Motion != Table {
		return s, err
	}
	text, err := readFile(s.CourseFile, maxCourse, "course names a CSV file beside subject.toml")
	if err != nil {
		return s, err
	}
	s.Digest = input.Digest([]byte(s.Digest), text)
	s.Course, err = ParseCourse(s.CourseFile, text)
	return s, err
}

func readFile(path string, limit int64, hint string) ([]byte, error) {
	text, err := input.ReadBounded(path, limit)
	var known *input.Error
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, &input.Error{File: path, What: "there is no such file", Hint: hint}
	case err != nil && !errors.As(err, &known):
		return nil, &input.Error{File: path, What: "cannot be read", Err: errors.Unwrap(err)}
	}
	return text, err
}

// Parse reads the text of a subject.toml and checks every value; a course is named, not read.
// The name is the one that errors give the file.
func Parse(name string, text []byte, o input.Overrides) (Subject, error) {
	var file File
	toml, err := input.DecodeStrict(name, text, &file)
	if err != nil {
		return Subject{}, err
	}
	flags, err := o.Apply(&file)
	if err != nil {
		return Subject{}, err
	}
	c := checker{input.Source{File: toml, Flags: flags}}
	s := Subject{FocusOn: FocusBody, Sources: file.Sources, Digest: input.Digest(text, o.Text())}
	for key := range flags { // what is said of the file's value does not hold for another
		delete(s.Sources, key)
	}
	if file.Name != nil {
		s.Name = *file.Name
	}
	c.body(&s, file)
	c.motion(&s, file)
	c.heading(&s, file)
	s.SpeedKnown = c.known(knownKeys{"u_speed_mps", "speed_df",
		[]string{"speed_mps", "speed_sd_mps"}}, file.SpeedUMPS, file.SpeedDF)
	s.ElevationKnown = c.known(knownKeys{"u_elevation_deg", "elevation_df",
		[]string{"elevation_deg", "elevation_sd_deg"}}, file.ElevationUDeg, file.ElevationDF)
	s.ElevationKnown.U *= math.Pi / 180
	c.sources(file.Sources)
	return s, c.Wrong.Err(name)
}

// checker checks values and notes what is wrong with them.
type checker struct{ input.Source }

func (c *checker) need(key string, x *float64, why string) {
	if x == nil {
		c.Fault(key, "is not stated", why)
	}
}

func (c *checker) body(s *Subject, f File) {
	size := input.Above(0, 10_000)
	for _, v := range []struct {
		key string
		x   *float64
		to  *float64
	}{{"length_mm", f.LengthMM, &s.Length}, {"height_mm", f.HeightMM, &s.Height},
		{"width_mm", f.WidthMM, &s.Width}} {
		c.need(v.key, v.x,
			"measure the body, or take a published size: the whole of it is to be in the picture")
		*v.to = c.Number(v.key, v.x, size) * 1e-3
	}
	s.BehindNose = c.Number("behind_nose_mm", f.BehindNoseMM, input.Between(0, 10_000)) * 1e-3
	if s.Length > 0 && s.BehindNose > s.Length {
		c.Fault("behind_nose_mm", fmt.Sprintf("is %g, behind the tail of a body of %g mm",
			*f.BehindNoseMM, *f.LengthMM), "it counts from the nose")
	}
	c.focus(s, f)
}

func (c *checker) focus(s *Subject, f File) {
	if f.FocusOn == nil {
		return
	}
	if s.FocusOn = *f.FocusOn; s.FocusOn != FocusBody && s.FocusOn != FocusNose {
		c.Fault("focus_on", fmt.Sprintf("is %q; it is body or nose", *f.FocusOn), "")
	}
}

func (c *checker) motion(s *Subject, f File) {
	if f.Motion != nil {
		s.Motion = Motion(*f.Motion)
	}
	switch {
	case f.Motion == nil:
		c.Fault("motion", "is not stated",
			"straight: flight, or a run on a plane; hop: free fall; table: a measured course")
	case !slices.Contains(Motions(), *f.Motion):
		c.Fault("motion", fmt.Sprintf("is %q; it is %s", *f.Motion, strings.Join(Motions(), ", ")),
			"")
	case s.Motion == Table && f.Course == nil:
		c.Fault("course", "is not stated",
			`motion "table" follows a course: name its CSV file, time_ms,along_mm,up_mm from the trip on`)
	case s.Motion != Table && f.Course != nil:
		c.Fault("course", fmt.Sprintf("is stated, but motion is %s", s.Motion),
			`write motion = "table", or take course out`)
	case s.Motion == Table:
		s.CourseFile = *f.Course
	}
	s.Speed = c.Number("speed_mps", f.SpeedMPS, input.Above(0, 300))
	s.SpeedSD = c.Number("speed_sd_mps", f.SpeedSDMPS, input.Between(0, 300))
	if s.Motion != Table {
		c.need("speed_mps", f.SpeedMPS,
			"measure it, take a published value, or begin with --preset")
		c.need("speed_sd_mps", f.SpeedSDMPS,
			"how much the speed differs from trip to trip; 0 only where it never does")
	}
}

func (c *checker) heading(s *Subject, f File) {
	rad := math.Pi / 180
	s.Elevation = c.Number("elevation_deg", f.ElevationDeg, input.Between(-90, 90)) * rad
	s.ElevationSD = c.Number("elevation_sd_deg", f.ElevationSDDeg, input.Between(0, 90)) * rad
	s.AzimuthSD = c.Number("azimuth_sd_deg", f.AzimuthSDDeg, input.Between(0, 90)) * rad
	for key, x := range map[string]*float64{"elevation_sd_deg": f.ElevationSDDeg,
		"azimuth_sd_deg": f.AzimuthSDDeg} {
		if x == nil {
			s.Unstated = append(s.Unstated, key)
		}
	}
	switch {
	case f.ExitMM == nil:
		s.Unstated = append(s.Unstated, "exit_mm")
	case len(f.ExitMM) != 2:
		c.Fault("exit_mm", fmt.Sprintf("has %d values, not two", len(f.ExitMM)),
			"give the opening's height and its width along the view, such as [10, 10]")
	default:
		for i := range s.Exit {
			s.Exit[i] = c.Number("exit_mm", &f.ExitMM[i], input.Between(0, 10_000)) * 1e-3
		}
	}
	sort.Strings(s.Unstated)
}

// knownKeys are those that say how well values are known, and the values'.
type knownKeys struct {
	u, df string
	of    []string
}

// known is how well a law is known. What the file says of its own values does not hold for those
// that flags give.
func (c *checker) known(key knownKeys, u, df *float64) predict.Known {
	k := predict.Known{U: c.Number(key.u, u, input.Between(0, 300)),
		DF: c.Number(key.df, df, input.Between(predict.FewestDF, 1e6))}
	for _, of := range key.of {
		if _, given := c.Flags[of]; given {
			return predict.Known{}
		}
	}
	return k
}

// sources checks that what [sources] explains are keys of the file.
func (c *checker) sources(all map[string]string) {
	var known []string
	for _, s := range Settings() {
		known = append(known, s.Key)
	}
	for key := range all {
		if slices.Contains(known, key) {
			continue
		}
		hint := "its keys are those of the file"
		if near := input.Nearest(key, known); near != "" {
			hint = "the nearest known key is " + near
		}
		c.Fault("sources."+key, "is in [sources], but is no key of a subject", hint)
	}
}
