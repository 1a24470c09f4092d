package shoot

import (
	"os"
	"path/filepath"
	"testing"
)

// FuzzShootFile: shoot.toml and the result.json that it names.
func FuzzShootFile(f *testing.F) {
	const head = "rig = \"greenhouse\"\nsubject = \"bee.toml\"\ntravel = \"right\"\n"
	result := `{"schema": "leadmark/result/1", "trip_line_px": [[10, 0], [10, 400]], "frames": [{"px_per_mm": 9.7}]}`
	f.Add([]byte(head+"px_per_mm = 9.7\n[trip]\nline_px = [[10, 0], [10, 400]]\n"), []byte(""))
	f.Add([]byte(head+"scale_from = \"result.json\"\n"), []byte(result))
	f.Add([]byte(head+"scale_from = \"result.json\"\nexit_px = [1e308, nan]\n"),
		[]byte(`{"schema": "leadmark/result/2"}`))
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, text, result []byte) {
		if err := os.WriteFile(filepath.Join(dir, "result.json"), result, 0o666); err != nil {
			t.Fatal(err)
		}
		_ = IsDocument(result)
		s, err := Parse(dir, text)
		if err == nil && (!(s.Scale > 0) || s.TripLine[0] == s.TripLine[1] ||
			s.Travel == [2]float64{}) {
			t.Errorf("accepted %+v", s)
		}
	})
}
