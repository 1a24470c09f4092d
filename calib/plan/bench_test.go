package plan_test

import "testing"

func BenchmarkMake(b *testing.B) {
	for b.Loop() {
		makePlan(b, nil)
	}
}
