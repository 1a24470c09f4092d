package places

import (
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"leadmark/calib/input"
	"leadmark/calib/runfile"
	"leadmark/calib/shoot"
	"leadmark/cmd/leadmark/desk/reply"
	"leadmark/vision/frame"
)

// Places are the folders that are shown: those that lie directly in one folder, and no other. A
// name in an address is looked up among them and never joined to a path unseen, so that no "..",
// Link or encoding of either leads elsewhere.
type Places struct {
	Root string // with all links resolved
	Only string // the one folder that is shown; "" for all
}

// Place is one folder.
type Place struct {
	Name string
	Kind Kind
}

// Kind is what a folder holds.
type Kind string

// Kinds of folders.
const (
	Run   Kind = "run"
	Shoot Kind = "shoot"
)

// Open takes a folder of runs and shoots, or one of them.
func Open(dir string) (Places, error) {
	abs, err := filepath.Abs(dir)
	if err == nil {
		abs, err = filepath.EvalSymlinks(abs)
	}
	if err != nil {
		return Places{}, &input.Error{File: dir, What: "there is no such folder",
			Hint: "name the folder that holds your runs, or one run"}
	}
	if info, err := os.Stat(abs); err != nil || !info.IsDir() {
		return Places{}, &input.Error{File: dir, What: "is not a folder",
			Hint: "name the folder that holds your runs, or one run"}
	}
	if describes(abs) && filepath.Dir(abs) != abs {
		return Places{Root: filepath.Dir(abs), Only: filepath.Base(abs)}, nil
	}
	return Places{Root: abs}, nil
}

// describes says whether a folder itself is a run or a shoot by its description.
func describes(dir string) bool { return Has(dir, runfile.RunFileName) || Has(dir, shoot.FileName) }

// Has says whether a plain file of a name lies in a folder.
func Has(dir, name string) bool {
	info, err := os.Stat(filepath.Join(dir, name))
	return err == nil && info.Mode().IsRegular()
}

// List names the runs and shoots there are, in natural order.
func (p Places) List() ([]Place, error) {
	entries, err := os.ReadDir(p.Root)
	if err != nil {
		return nil, &input.Error{File: p.Root, What: "cannot be looked into",
			Hint: "its permissions must let you read it"}
	}
	var all []Place
	for _, e := range entries {
		if q, ok := p.look(e.Name()); ok {
			all = append(all, q)
		}
	}
	slices.SortFunc(all, func(a, b Place) int { return frame.CompareNames(a.Name, b.Name) })
	return all, nil
}

// look says what the folder of a name is; ok is false for what is not shown.
func (p Places) look(name string) (Place, bool) {
	if name == "" || strings.HasPrefix(name, ".") || p.Only != "" && name != p.Only || !PlainName(name) ||
		!p.Inside(name) {
		return Place{}, false
	}
	dir := filepath.Join(p.Root, name)
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return Place{}, false
	}
	for _, file := range []string{runfile.RunFileName, runfile.ShotsFileName, runfile.CorrectionsFileName,
		shoot.FileName} {
		if _, err := os.Lstat(filepath.Join(dir, file)); err == nil && !p.Inside(filepath.Join(name, file)) {
			return Place{}, false // what is wrong with such a file would be told, and so what stands in it
		}
	}
	switch {
	case Has(dir, shoot.FileName):
		return Place{name, Shoot}, true
	case Has(dir, runfile.RunFileName) || p.holdsPictures(dir):
		return Place{name, Run}, true
	}
	return Place{}, false
}

// holdsPictures says whether pictures lie in a folder that no result of ours fills.
func (p Places) holdsPictures(dir string) bool {
	if Has(dir, "result.json") || Has(dir, "shoot.json") {
		return false
	}
	entries, err := os.ReadDir(dir)
	return err == nil && slices.ContainsFunc(entries, func(e os.DirEntry) bool {
		return !e.IsDir() && frame.IsPicture(e.Name())
	})
}

// Inside says whether a path below the root stays there when all links are followed.
func (p Places) Inside(rel string) bool {
	real, err := filepath.EvalSymlinks(filepath.Join(p.Root, rel))
	if err != nil {
		return false
	}
	back, err := filepath.Rel(p.Root, real)
	return err == nil && filepath.IsLocal(back)
}

// Find is the folder of a run or shoot by its name.
func (p Places) Find(kind Kind, name string) (string, error) {
	q, ok := p.look(name)
	if !ok || q.Kind != kind {
		return "", reply.NotFound("there is no " + string(kind) + " of that name here")
	}
	return filepath.Join(p.Root, q.Name), nil
}

// OpenFile opens a file of a folder for showing. No link leads out of the root, even one made
// between the look and the opening.
func (p Places) OpenFile(dir, name string) (*os.File, error) {
	if !PlainName(name) || strings.HasPrefix(name, ".") {
		return nil, reply.NotFound("there is no such picture")
	}
	root, err := os.OpenRoot(p.Root)
	if err != nil {
		return nil, reply.NotFound("there is no such picture")
	}
	defer root.Close()
	real, err := filepath.EvalSymlinks(filepath.Join(dir, name)) // a link that stays inside is followed
	if err != nil {
		return nil, reply.NotFound("there is no such picture")
	}
	rel, err := filepath.Rel(p.Root, real)
	if err != nil {
		return nil, reply.NotFound("there is no such picture")
	}
	if info, err := root.Stat(rel); err != nil || !info.Mode().IsRegular() {
		return nil, reply.NotFound("there is no such picture")
	}
	file, err := root.Open(rel)
	if err != nil {
		return nil, reply.NotFound("there is no such picture")
	}
	return file, nil
}

// Link is the address of a folder's page.
func (p Places) Link(name string) string {
	if q, ok := p.look(name); ok && q.Kind == Shoot {
		return "/shoot/" + url.PathEscape(name)
	}
	return "/run/" + url.PathEscape(name)
}
