package crops

import (
	"bytes"
	"testing"
)

// BenchmarkFrame draws frames of all classes and writes them as JPEG.
func BenchmarkFrame(b *testing.B) {
	px := 0
	for i := 0; b.Loop(); i++ {
		f := At(Classes()[i%len(Classes())], 1, uint64(i))
		var out bytes.Buffer
		if err := f.Scene.Camera.Encode(&out, f.Scene.Draw()); err != nil {
			b.Fatal(err)
		}
		px += f.Scene.W * f.Scene.H
	}
	b.ReportMetric(float64(px)/float64(b.N)/1e6, "MP/frame")
}
