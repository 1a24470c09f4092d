package fit

import (
	"fmt"
	"syscall"
	"testing"
)

// cpu is the processor time this process has used, which other work on the machine changes little; s.
func cpu() float64 {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) * 1e-9
}

func BenchmarkManyShots(b *testing.B) {
	for _, shots := range []int{1000, 10000} {
		b.Run(fmt.Sprint(shots), func(b *testing.B) {
			run, _ := manyShots(shots)
			begin := cpu()
			for b.Loop() {
				if _, err := Lag(run); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric((cpu()-begin)/float64(b.N), "cpu-s/op")
		})
	}
}
