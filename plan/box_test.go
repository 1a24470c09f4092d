package plan

import (
	"fmt"
	"testing"
	"time"
)

func TestQuick(t *testing.T) {
	r := 3.14159 / 180
	s := Subject{Length: .012, Height: .006, Width: .008, Motion: Straight, Speed: 1.2, SpeedSD: .3, Elevation: 5 * r, ElevationSD: 8 * r, AzimuthSD: 6 * r, Exit: [2]float64{.01, .01}}
	h := Subject{Length: .006, Height: .003, Width: .003, Motion: Hop, Speed: 3, SpeedSD: .6, Elevation: 45 * r, ElevationSD: 15 * r, AzimuthSD: 25 * r, Exit: [2]float64{.02, .02}, BehindNose: .003}
	law := LagLaw{Mean: .0523, Scale: .0009, DF: 17}
	for _, s := range []Subject{s, h} {
		m := newModel(s, law, 0)
		d := m.draws(1<<20, 1, 2)
		for _, n := range []int{2048, 4096, 8192, 16384, 131072} {
			for seed := range 3 {
				f := m.draws(n, uint64(seed), 1)
				t2 := time.Now()
				sh := firstShape(f, .95)
				sh.search(f, .95)
				dt := time.Since(t2)
				k, _ := sh.size(d, .95)
				fmt.Println(n, seed, sh.logVolume(k), dt)
			}
		}
	}
}
