package runfile

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestAddShotsKeepsWhatIsThere(t *testing.T) {
	before := "\ufeff# by hand\r\nwhy,frame,drop_mm,delay_ms\r\n,a.jpg,400,"
	dir := folder(t, ShotsFileName, before)
	added, err := AddShots(t.Context(), dir, Drop, []string{"a.jpg", `b "1", x.jpg`}, ShotCells{DropMM: new(900.5)})
	if err != nil || !slices.Equal(added, []string{`b "1", x.jpg`}) {
		t.Fatalf("%v, %v", added, err)
	}
	text, _ := os.ReadFile(filepath.Join(dir, ShotsFileName))
	if want := before + "\n,\"b \"\"1\"\", x.jpg\",900.5,\n"; string(text) != want {
		t.Errorf("%q, want %q", text, want)
	}
	shots, err := ParseShots("", text, Run{Method: Drop})
	if err != nil || len(shots) != 2 || shots[1].Drop != 0.9005 {
		t.Errorf("%+v, %v", shots, err)
	}
}

func TestAddShotsMakesTheTable(t *testing.T) {
	dir := t.TempDir()
	if _, err := AddShots(t.Context(), dir, Push, []string{"a.jpg"},
		ShotCells{Group: "slow", DelayMS: new(5.0)}); err != nil {
		t.Fatal(err)
	}
	text, _ := os.ReadFile(filepath.Join(dir, ShotsFileName))
	if want := "frame,speed_mps,delay_ms,group,use,why\na.jpg,,5,slow,,\n"; string(text) != want {
		t.Errorf("%q, want %q", text, want)
	}
}

func TestAddShotsRefuses(t *testing.T) {
	dir := folder(t, ShotsFileName, "frame\n")
	if _, err := AddShots(t.Context(), dir, Drop, []string{"a.jpg"}, ShotCells{DropMM: new(1.0)}); err == nil ||
		!strings.Contains(err.Error(), "drop_mm") {
		t.Errorf("no column: %v", err)
	}
	if _, err := AddShots(t.Context(), dir, Drop, []string{"../a.jpg"}, ShotCells{}); err == nil {
		t.Error("a path was taken for a name")
	}
	if text, _ := os.ReadFile(filepath.Join(dir, ShotsFileName)); string(text) != "frame\n" {
		t.Errorf("changed: %q", text)
	}
}
