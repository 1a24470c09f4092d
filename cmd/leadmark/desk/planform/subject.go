package planform

import (
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"leadmark/calib/input"
	"leadmark/calib/plan/subject"
	"leadmark/cmd/leadmark/desk/places"
	"leadmark/cmd/leadmark/desk/reply"
)

// SubjectEnd is how the files of subjects are called in the folder.
const SubjectEnd = ".toml"

// Subject is a file of the folder, a preset, or values alone.
func (p *Planner) Subject(file, preset string, values input.Overrides) (subject.Subject, error) {
	switch {
	case preset != "":
		return subject.LoadPreset(preset, values)
	case file == "":
		return subject.Load("", values)
	case !slices.Contains(p.Subjects(), file):
		return subject.Subject{}, reply.NotFound("there is no subject of that name here")
	}
	if err := p.CourseInside(file); err != nil {
		return subject.Subject{}, err
	}
	return subject.Load(filepath.Join(p.Places.Root, file), values)
}

// CourseInside refuses a subject's file, by its path in the folder, that names a course outside it.
func (p *Planner) CourseInside(file string) error {
	text, err := input.ReadBounded(filepath.Join(p.Places.Root, file), 1<<20)
	if err != nil {
		return err
	}
	parsed, err := subject.Parse(filepath.Base(file), text, input.Overrides{})
	if err == nil && parsed.CourseFile != "" && !p.Places.Inside(filepath.Join(filepath.Dir(file), parsed.CourseFile)) {
		err = reply.Refused(http.StatusUnprocessableEntity, "the course lies outside the folder that is shown",
			"put it beside the subject's file")
	}
	return err
}

// Subjects are the subjects' files in the folder.
func (p *Planner) Subjects() []string {
	if p.Places.Only != "" {
		return nil
	}
	entries, err := os.ReadDir(p.Places.Root)
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		if name := e.Name(); e.Type().IsRegular() && strings.HasSuffix(name, SubjectEnd) &&
			!strings.HasPrefix(name, ".") && places.PlainName(name) {
			names = append(names, name)
		}
	}
	return names
}
