package runs

import (
	"testing"

	"leadmark/vision/synth/photo"
)

func BenchmarkDemoFrame(b *testing.B) {
	r := DemoRun(1).withDefaults()
	rnd := newRand(r.Seed)
	shots := r.shots(rnd)
	base := r.layout(rnd)
	sh := &shots[0]
	for i := range shots {
		if shots[i].odd == "" && shots[i].drop == 0.4 {
			sh = &shots[i]
		}
	}
	s := r.scene(base, sh, rnd, 1)
	stage := photo.NewSet(&s)
	dir := b.TempDir()
	for b.Loop() {
		if _, err := r.drawOne(dir, stage, sh, &s, 1); err != nil {
			b.Fatal(err)
		}
	}
}
