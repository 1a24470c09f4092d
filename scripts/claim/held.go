package claim

import "io"

// Log is what a study in short reports to: a test, or a benchmark.
type Log interface {
	Helper()
	Output() io.Writer
	Error(args ...any)
}

// Held prints the study to a test's log and fails the test for each claim that is not kept.
func (s *Study) Held(t Log) {
	t.Helper()
	if err := s.Print(t.Output()); err != nil {
		t.Error(err)
	}
	for _, broken := range s.Broken() {
		t.Error(broken)
	}
}
