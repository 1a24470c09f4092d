package report

import (
	"context"
	"flag"
	"os"
	"path/filepath"
	"testing"
	"time"
)

var keep = flag.String("keep", "", "write the bees' reports into this folder and keep them")

func beeOptions() Options {
	return Options{Made: time.Date(2026, 5, 3, 18, 4, 0, 0, time.UTC), Version: "0.2.0-test", Workers: 2}
}

func outDir(t *testing.T, name string) string {
	t.Helper()
	if *keep == "" {
		return t.TempDir()
	}
	return filepath.Join(*keep, name)
}

func TestWriteMakesTheFilesOfTheContract(t *testing.T) {
	r := beeRun(8, 0.15, 0.4, 0.9)
	o := beeOptions()
	o.Picture = beePicture(r)
	dir := outDir(t, "bees")
	if err := Write(context.Background(), dir, r, o); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"result.json", "readings.csv", "report.html", "frames/IMG_0002.jpg"} {
		if info, err := os.Stat(filepath.Join(dir, name)); err != nil || info.Size() == 0 {
			t.Errorf("%s: %v", name, err)
		}
	}
}
