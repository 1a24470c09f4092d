package animals

import (
	"fmt"
	"image/jpeg"
	"os"
	"path/filepath"
)

// EmptyFile is the name of the frame of the empty set that Write draws.
const EmptyFile = "EMPTY.JPG"

// Write draws the empty set and frames IMG_0001.JPG and on into a folder, frame i being scene(i).
// Frames beyond the number drawn are copies of those.
func (s Shoot) Write(dir string, frames, drawn int, scene func(i int) Scene) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	if err := writeScene(filepath.Join(dir, EmptyFile), s.Empty()); err != nil {
		return err
	}
	name := func(i int) string { return filepath.Join(dir, fmt.Sprintf("IMG_%04d.JPG", i+1)) }
	for i := range min(drawn, frames) {
		if err := writeScene(name(i), scene(i)); err != nil {
			return err
		}
	}
	for i := drawn; i < frames; i++ {
		data, err := os.ReadFile(name(i % drawn))
		if err != nil {
			return err
		}
		if err := os.WriteFile(name(i), data, 0o666); err != nil {
			return err
		}
	}
	return nil
}

func writeScene(path string, s Scene) error {
	img, _ := Render(s)
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := jpeg.Encode(f, img, &jpeg.Options{Quality: 90}); err != nil {
		return err
	}
	return f.Close()
}

// Describe is what shoot.toml says of where things stand in the picture.
func (s Shoot) Describe() string {
	return fmt.Sprintf("travel = \"right\"\npx_per_mm = %g\nempty = %q\nexit_px = [%g, "+
		"%g]\n\n[trip]\nline_px = [[%g, 0], [%g, %d]]\n",
		s.Scale/1e3, EmptyFile, s.Trip[0], s.Trip[1], s.Trip[0], s.Trip[0], s.Set.Height-1)
}
