package frame

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"leadmark/fit/parallel"
	"leadmark/vision/frame/integrity"
)

// List looks through a folder and returns its photographs in natural order (CompareNames), and the
// files that have a picture's name and cannot be used, each with its reason. Hidden files,
// sub-folders and files of other kinds (run.toml, shots.csv, results) are passed over, and so is a
// RAW file beside a JPEG, PNG or TIFF of the same name, a DNG beside another RAW file of that name,
// and a file of a kind that is not read beside any of them.
//
// A bad file is never an error. A folder that is missing or cannot be read is, and so is a context
// that has ended.
func List(ctx context.Context, dir string) (frames []Frame, refused []Refusal, err error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, nil, folderError(dir, err)
	}
	names := pictureNames(entries)
	seen := make([]listed, len(names))
	if err := parallel.Try(ctx, len(names), 0, func(_ context.Context, i int) error {
		seen[i] = listOne(names[i], filepath.Join(dir, names[i]))
		return nil
	}); err != nil {
		return nil, nil, fmt.Errorf("looking through %s was stopped: %w", dir, err)
	}
	for _, l := range seen {
		switch {
		case l.folder:
		case l.bad != nil:
			refused = append(refused, *l.bad)
		default:
			frames = append(frames, l.frame)
		}
	}
	return frames, refused, nil
}

// listed is what one name of a folder stands for.
type listed struct {
	frame  Frame
	bad    *Refusal
	info   fs.FileInfo // of the file that was read; nil where none was
	folder bool        // a link to one
}

// listOne looks at one name of a folder. What is not read is told by its name: it need not be
// opened.
func listOne(name, path string) listed {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return listed{folder: true}
	}
	if kindOf(name) == kindOther {
		bad := integrity.NotRead(otherName(name))
		return listed{bad: &Refusal{Name: name, Path: path, Note: bad}}
	}
	return open(name, path)
}

// Open looks through one file, whatever its name.
func Open(path string) (Frame, *Refusal) {
	l := open(filepath.Base(path), path)
	return l.frame, l.bad
}

func open(name, path string) listed {
	data, info, bad := readFile(path)
	if !bad.None() {
		return listed{bad: &Refusal{Name: name, Path: path, Note: bad}}
	}
	f, refusal := Inspect(name, data)
	if refusal != nil {
		refusal.Path = path
		return listed{bad: refusal, info: info}
	}
	f.Path = path
	return listed{frame: f, info: info}
}

// kind is what a file's name promises. Where several files have one stem, those of the least kind
// are looked at.
type kind int

const (
	kindNone    kind = iota // not a picture
	kindPicture             // a picture
	kindRaw                 // a camera's RAW file
	kindDNG                 // a DNG, which is often made of a RAW file
	kindOther               // a photograph of a kind that is not read
)

func kindOf(name string) kind {
	ext := strings.ToLower(filepath.Ext(name))
	switch ext {
	case ".jpg", ".jpeg", ".png", ".tif", ".tiff":
		return kindPicture
	case ".dng":
		return kindDNG
	}
	switch {
	case integrity.RawKinds()[ext] != "":
		return kindRaw
	case otherName(name) != "":
		return kindOther
	}
	return kindNone
}

// otherName names the kinds of photograph that are not read, by the ending of the file's name; ""
// for any other file.
func otherName(name string) string {
	ext := strings.ToLower(filepath.Ext(name))
	switch ext {
	case ".heic", ".heif", ".hif":
		return "HEIF"
	case ".avif", ".webp", ".bmp", ".gif", ".jxl", ".crw", ".mrw", ".x3f", ".srw", ".sr2", ".srf",
		".rwl", ".3fr", ".fff", ".iiq", ".erf", ".kdc", ".dcr", ".mos", ".mef", ".gpr", ".raw":
		return strings.ToUpper(ext[1:])
	}
	return ""
}

// pictureNames picks the names to look at and orders them: of the files of one stem those of the
// first kind there is, so that a photograph that was written as JPEG and RAW counts once.
func pictureNames(entries []fs.DirEntry) []string {
	var all, names []string
	first := map[string]kind{}
	for _, e := range entries {
		name := e.Name()
		k := kindOf(name)
		if e.IsDir() || strings.HasPrefix(name, ".") || k == kindNone {
			continue
		}
		all = append(all, name)
		if have, ok := first[stem(name)]; !ok || k < have {
			first[stem(name)] = k
		}
	}
	for _, name := range all {
		if kindOf(name) == first[stem(name)] {
			names = append(names, name)
		}
	}
	slices.SortFunc(names, CompareNames)
	return names
}

// PassedOver names the photographs of a folder that are not looked at, each with the file of the
// same stem that is read in its place.
func PassedOver(folder []fs.DirEntry) map[string]string {
	read := map[string]string{}
	names := pictureNames(folder)
	for _, name := range names {
		read[stem(name)] = name
	}
	over := map[string]string{}
	for _, e := range folder {
		name := e.Name()
		if k := kindOf(name); k != kindNone && read[stem(name)] != "" &&
			kindOf(read[stem(name)]) < k {
			over[name] = read[stem(name)]
		}
	}
	return over
}

// IsPicture says whether a file's name is that of a photograph of a kind that is read.
func IsPicture(name string) bool {
	k := kindOf(name)
	return k != kindNone && k != kindOther && !strings.HasPrefix(name, ".")
}

func stem(name string) string {
	return strings.ToLower(strings.TrimSuffix(name, filepath.Ext(name)))
}

// folderError says what is wrong with the folder and what to do.
func folderError(dir string, err error) error {
	hint := "check the path and that the card or disk is mounted"
	if errors.Is(err, fs.ErrPermission) {
		hint = "its permissions must let you read it"
	} else if info, statErr := os.Stat(dir); statErr == nil && !info.IsDir() {
		hint = "it is a file; name the folder that holds the frames"
	}
	return fmt.Errorf("cannot read the folder %s: %w\nhint: %s", dir, err, hint)
}
