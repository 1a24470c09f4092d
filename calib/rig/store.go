package rig

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"unicode"

	"leadmark/calib/input"
	"leadmark/calib/store"
)

// Names of the files of a profile.
const (
	DescriptionName = "rig.toml"
	HistoryName     = "calibrations.jsonl"
	tornName        = "calibrations.torn"
)

const maxDescription = 1 << 20 // bytes

// Store is the folder that holds the profiles, one folder each.
type Store struct {
	Root string
	Disk store.Disk // what writes; nil: the system
}

// Open finds the profiles' folder: the one given, else the environment's LEADMARK_RIGS, else
// leadmark/rigs in the user's configuration folder. It need not exist yet.
func Open(given string, getenv func(string) string) (Store, error) {
	if given != "" {
		return Store{Root: given}, nil
	}
	if dir := getenv("LEADMARK_RIGS"); dir != "" {
		return Store{Root: dir}, nil
	}
	config, err := os.UserConfigDir()
	if err != nil {
		return Store{}, &input.Error{What: "there is no folder for the rigs' profiles", Err: err,
			Hint: "give one with --rigs DIR or in the environment as LEADMARK_RIGS"}
	}
	return Store{Root: filepath.Join(config, "leadmark", "rigs")}, nil
}

// CheckName says whether a name can be a rig's: letters, digits, blanks, points, dashes and
// underlines, 64 characters at most, the first a letter or a digit.
func CheckName(name string) error {
	bad := &input.Error{File: fmt.Sprintf("rig %q", name), What: "is not a name for a rig",
		Hint: "use letters, digits, blanks, points, dashes and underlines; begin with a letter or a digit"}
	runes := []rune(name)
	if len(runes) == 0 || len(runes) > 64 || !unicode.IsLetter(runes[0]) && !unicode.IsDigit(runes[0]) {
		return bad
	}
	for _, r := range runes {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune(" .-_", r) {
			return bad
		}
	}
	if last := runes[len(runes)-1]; last == ' ' || last == '.' || strings.Contains(name, "..") {
		return bad
	}
	return nil
}

// Dir is the folder of a profile.
func (s Store) Dir(name string) string { return filepath.Join(s.Root, name) }

// New makes a profile with a rig.toml to fill in and returns that file's path. A profile that is
// there already is left as it is, and the error says so.
func (s Store) New(name string) (string, error) {
	if err := CheckName(name); err != nil {
		return "", err
	}
	dir := s.Dir(name)
	if err := store.MakeFolder(dir); err != nil {
		return "", &input.Error{File: dir, What: "cannot be made", Err: input.Cause(err),
			Hint: "choose another folder with --rigs DIR"}
	}
	path := filepath.Join(dir, DescriptionName)
	made, err := store.Create(s.disk(), path, []byte(description(name)))
	switch {
	case err != nil:
		return "", err
	case !made:
		return "", &input.Error{File: fmt.Sprintf("rig %q", name), What: "is there already, in " + dir,
			Hint: "look at it with: leadmark rig show " + name}
	}
	return path, nil
}

// Load reads and checks a profile's description.
func (s Store) Load(name string) (Profile, error) {
	if err := CheckName(name); err != nil {
		return Profile{}, err
	}
	path := filepath.Join(s.Dir(name), DescriptionName)
	text, err := input.ReadBounded(path, maxDescription)
	if errors.Is(err, fs.ErrNotExist) {
		return Profile{}, s.missing(name)
	}
	if err != nil {
		var known *input.Error
		if !errors.As(err, &known) {
			err = &input.Error{File: path, What: "cannot be read", Err: input.Cause(err)}
		}
		return Profile{}, err
	}
	p, err := Parse(path, text)
	p.Name, p.Dir, p.Digest = name, s.Dir(name), input.Digest(text)
	return p, err
}

func (s Store) missing(name string) error {
	hint := "make it with: leadmark rig new " + quoted(name)
	if names, err := s.List(); err == nil && len(names) > 0 {
		if near := input.Nearest(name, names); near != "" {
			hint = fmt.Sprintf("did you mean %s? Else %s", quoted(near), hint)
		}
		hint += "\nrigs there are: " + strings.Join(names, ", ")
	}
	return &input.Error{File: fmt.Sprintf("rig %q", name), What: "does not exist in " + s.Root, Hint: hint}
}

func quoted(name string) string {
	if strings.Contains(name, " ") {
		return `"` + name + `"`
	}
	return name
}

// Has reports whether there is a profile of that name.
func (s Store) Has(name string) bool {
	if CheckName(name) != nil {
		return false
	}
	_, err := os.Stat(filepath.Join(s.Dir(name), DescriptionName))
	return err == nil
}

// List names the profiles, in order. A root that is not there holds none.
func (s Store) List() ([]string, error) {
	entries, err := os.ReadDir(s.Root)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, &input.Error{File: s.Root, What: "cannot be looked into", Err: input.Cause(err)}
	}
	var names []string
	for _, e := range entries {
		info, err := os.Stat(filepath.Join(s.Root, e.Name(), DescriptionName))
		if err == nil && info.Mode().IsRegular() && CheckName(e.Name()) == nil {
			names = append(names, e.Name())
		}
	}
	sort.Strings(names)
	return names, nil
}

// Ready checks, without leaving a trace, that a calibration can be added to a profile: it is
// there, its description is in order and its folder can be written.
func (s Store) Ready(name string) error {
	if _, err := s.Load(name); err != nil {
		return err
	}
	lines := s.lines(name)
	err := lines.Ready()
	if err == nil {
		return nil
	}
	refusal := &input.Error{File: lines.Path, What: "cannot be written, so the calibration could not be kept",
		Err: input.Cause(err), Hint: "mend the permissions, or choose another folder with --rigs DIR"}
	var known *input.Error
	if errors.As(err, &known) {
		refusal.Err, refusal.Hint = errors.New("it "+known.What), known.Hint
	}
	return refusal
}
