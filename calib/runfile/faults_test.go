package runfile

import (
	"os"
	"path/filepath"
	"testing"

	"leadmark/calib/store"
	"leadmark/calib/store/storetest"
)

// Every single step of a correction fails in every way: corrections.toml reads as before or as
// after.
func TestEveryFaultOfACorrection(t *testing.T) {
	for name, text := range map[string]string{"the first": "",
		"a second": "schema = \"leadmark/corrections/1\"\n\n[[frame]]\nfile = \"a.jpg\"\nleave_out = \"blurred\"\n"} {
		t.Run(name, func(t *testing.T) {
			storetest.Every(t, storetest.Case{
				Set: func(t *testing.T, dir string) {
					if text == "" {
						return
					}
					if err := os.WriteFile(filepath.Join(dir, CorrectionsFileName), []byte(text), 0o666); err != nil {
						t.Fatal(err)
					}
				},
				Do: func(d store.Disk, dir string) error {
					_, _, err := correct(t.Context(), d, dir, func(c Corrections) (Corrections, error) {
						return c.With(Correction{Frame: "b.jpg", LeftOut: "another"}), nil
					})
					return err
				},
				State: correctionsIn,
			})
		})
	}
}

// correctionsIn is what a folder's corrections say, or why they do not.
func correctionsIn(_ *testing.T, dir string) string {
	c, err := LoadCorrections(dir)
	if err != nil {
		return err.Error()
	}
	return string(c.Text())
}

// Taking the last correction back takes the file away, or leaves it.
func TestEveryFaultOfTakingACorrectionBack(t *testing.T) {
	storetest.Every(t, storetest.Case{
		Set: func(t *testing.T, dir string) {
			if err := os.WriteFile(filepath.Join(dir, CorrectionsFileName),
				[]byte("schema = \"leadmark/corrections/1\"\n\n[[frame]]\nfile = \"a.jpg\"\nleave_out = \"x\"\n"),
				0o666); err != nil {
				t.Fatal(err)
			}
		},
		Do: func(d store.Disk, dir string) error {
			_, _, err := correct(t.Context(), d, dir,
				func(Corrections) (Corrections, error) { return Corrections{}, nil })
			return err
		},
		State: correctionsIn,
	})
}
