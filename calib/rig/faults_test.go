package rig

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"leadmark/calib/store"
	"leadmark/calib/store/storetest"
)

// Every single step of an accept fails in every way: the profile's history reads as before or as
// after, and nothing that was accepted earlier is lost. Once into a history that is not there yet,
// once behind another, and once behind a torn line.
func TestEveryFaultOfAnAccept(t *testing.T) {
	first, err := entry("first").line()
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string][]byte{"the first": nil, "a second": first,
		"behind a torn line": append(append([]byte{}, first...), first[:len(first)/3]...)} {
		t.Run(name, func(t *testing.T) {
			storetest.Every(t, storetest.Case{
				Set: func(t *testing.T, dir string) {
					if _, err := (Store{Root: dir}).New("greenhouse"); err != nil {
						t.Fatal(err)
					}
					if text != nil {
						if err := os.WriteFile(filepath.Join(dir, "greenhouse", HistoryName), text, 0o666); err != nil {
							t.Fatal(err)
						}
					}
				},
				Do: func(d store.Disk, dir string) error {
					_, err := Store{Root: dir, Disk: d}.Append(t.Context(), "greenhouse", entry("second"))
					return err
				},
				State: func(t *testing.T, dir string) string {
					h, err := (Store{Root: dir}).History("greenhouse")
					if err != nil {
						return err.Error()
					}
					s := fmt.Sprint(len(h.Entries), " calibrations:")
					for _, e := range h.Entries {
						s += " " + e.Note
					}
					for _, bad := range h.Damaged {
						if !bad.Torn {
							s += fmt.Sprintf(", line %d %s", bad.Line, bad.What)
						}
					}
					return s
				},
			})
		})
	}
}

// A new profile is there whole or not at all.
func TestEveryFaultOfANewProfile(t *testing.T) {
	storetest.Every(t, storetest.Case{
		Set: func(*testing.T, string) {},
		Do: func(d store.Disk, dir string) error {
			s := Store{Root: dir, Disk: d}
			if s.Has("greenhouse") {
				return nil
			}
			_, err := s.New("greenhouse")
			return err
		},
		State: func(_ *testing.T, dir string) string {
			text, err := os.ReadFile(filepath.Join(dir, "greenhouse", DescriptionName))
			return fmt.Sprint(len(text), err == nil)
		},
	})
}
