package desk

import (
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"leadmark/calib/input"
	"leadmark/calib/runfile"
	"leadmark/calib/shoot"
	"leadmark/vision/frame"
)

// places are the folders that are shown: those that lie directly in one folder, and no other. A
// name in an address is looked up among them and never joined to a path unseen, so that no "..",
// link or encoding of either leads elsewhere.
type places struct {
	root string // with all links resolved
	only string // the one folder that is shown; "" for all
}

// place is one folder.
type place struct {
	Name string
	Kind placeKind
}

type placeKind string

const (
	runPlace   placeKind = "run"
	shootPlace placeKind = "shoot"
)

// openPlaces takes a folder of runs and shoots, or one of them.
func openPlaces(dir string) (places, error) {
	abs, err := filepath.Abs(dir)
	if err == nil {
		abs, err = filepath.EvalSymlinks(abs)
	}
	if err != nil {
		return places{}, &input.Error{File: dir, What: "there is no such folder",
			Hint: "name the folder that holds your runs, or one run"}
	}
	if info, err := os.Stat(abs); err != nil || !info.IsDir() {
		return places{}, &input.Error{File: dir, What: "is not a folder",
			Hint: "name the folder that holds your runs, or one run"}
	}
	if describes(abs) && filepath.Dir(abs) != abs {
		return places{root: filepath.Dir(abs), only: filepath.Base(abs)}, nil
	}
	return places{root: abs}, nil
}

// describes says whether a folder itself is a run or a shoot by its description.
func describes(dir string) bool { return has(dir, runfile.RunFileName) || has(dir, shoot.FileName) }

func has(dir, name string) bool {
	info, err := os.Stat(filepath.Join(dir, name))
	return err == nil && info.Mode().IsRegular()
}

// list names the runs and shoots there are, in natural order.
func (p places) list() ([]place, error) {
	entries, err := os.ReadDir(p.root)
	if err != nil {
		return nil, &input.Error{File: p.root, What: "cannot be looked into",
			Hint: "its permissions must let you read it"}
	}
	var all []place
	for _, e := range entries {
		if q, ok := p.look(e.Name()); ok {
			all = append(all, q)
		}
	}
	slices.SortFunc(all, func(a, b place) int { return frame.CompareNames(a.Name, b.Name) })
	return all, nil
}

// look says what the folder of a name is; ok is false for what is not shown.
func (p places) look(name string) (place, bool) {
	if name == "" || strings.HasPrefix(name, ".") || p.only != "" && name != p.only || !plainName(name) ||
		!p.inside(name) {
		return place{}, false
	}
	dir := filepath.Join(p.root, name)
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return place{}, false
	}
	for _, file := range []string{runfile.RunFileName, runfile.ShotsFileName, runfile.CorrectionsFileName,
		shoot.FileName} {
		if _, err := os.Lstat(filepath.Join(dir, file)); err == nil && !p.inside(filepath.Join(name, file)) {
			return place{}, false // what is wrong with such a file would be told, and so what stands in it
		}
	}
	switch {
	case has(dir, shoot.FileName):
		return place{name, shootPlace}, true
	case has(dir, runfile.RunFileName) || p.holdsPictures(dir):
		return place{name, runPlace}, true
	}
	return place{}, false
}

// holdsPictures says whether pictures lie in a folder that no result of ours fills.
func (p places) holdsPictures(dir string) bool {
	if has(dir, "result.json") || has(dir, "shoot.json") {
		return false
	}
	entries, err := os.ReadDir(dir)
	return err == nil && slices.ContainsFunc(entries, func(e os.DirEntry) bool {
		return !e.IsDir() && frame.IsPicture(e.Name())
	})
}

// plainName says whether a name is one step of a path.
func plainName(name string) bool {
	return utf8.ValidString(name) && name != "." && name != ".." && !strings.ContainsAny(name, `/\`) &&
		!strings.ContainsFunc(name, unicode.IsControl) && len(name) < 256
}

// newName says whether a file or folder may be given a name: one that every system takes, and that
// is not hidden.
func newName(name string) bool {
	return name != "" && plainName(name) && !strings.HasPrefix(name, ".") && !strings.ContainsAny(name, `<>:"|?*`)
}

// inside says whether a path below the root stays there when all links are followed.
func (p places) inside(rel string) bool {
	real, err := filepath.EvalSymlinks(filepath.Join(p.root, rel))
	if err != nil {
		return false
	}
	back, err := filepath.Rel(p.root, real)
	return err == nil && filepath.IsLocal(back)
}

// find is the folder of a run or shoot by its name.
func (p places) find(kind placeKind, name string) (string, error) {
	q, ok := p.look(name)
	if !ok || q.Kind != kind {
		return "", notFound("there is no " + string(kind) + " of that name here")
	}
	return filepath.Join(p.root, q.Name), nil
}

// open opens a file of a folder for showing. No link leads out of the root, even one made between
// the look and the opening.
func (p places) open(dir, name string) (*os.File, error) {
	if !plainName(name) || strings.HasPrefix(name, ".") {
		return nil, notFound("there is no such picture")
	}
	root, err := os.OpenRoot(p.root)
	if err != nil {
		return nil, notFound("there is no such picture")
	}
	defer root.Close()
	real, err := filepath.EvalSymlinks(filepath.Join(dir, name)) // a link that stays inside is followed
	if err != nil {
		return nil, notFound("there is no such picture")
	}
	rel, err := filepath.Rel(p.root, real)
	if err != nil {
		return nil, notFound("there is no such picture")
	}
	if info, err := root.Stat(rel); err != nil || !info.Mode().IsRegular() {
		return nil, notFound("there is no such picture")
	}
	file, err := root.Open(rel)
	if err != nil {
		return nil, notFound("there is no such picture")
	}
	return file, nil
}

// link is the address of a folder's page.
func (p places) link(name string) string {
	if q, ok := p.look(name); ok && q.Kind == shootPlace {
		return "/shoot/" + url.PathEscape(name)
	}
	return "/run/" + url.PathEscape(name)
}
