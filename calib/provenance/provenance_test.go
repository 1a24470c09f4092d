package provenance

import (
	"runtime/debug"
	"testing"
)

func TestCommit(t *testing.T) {
	at := func(changed string) []debug.BuildSetting {
		return []debug.BuildSetting{{Key: "vcs.revision", Value: "5076a09556cc5f80b8ae8c3ed5fbed099bb6d727"},
			{Key: "vcs.modified", Value: changed}}
	}
	for want, settings := range map[string][]debug.BuildSetting{"": nil, "5076a09556cc": at("false"),
		"5076a09556cc, changed": at("true")} {
		if got := commit(settings); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestString(t *testing.T) {
	for want, g := range map[string]Generator{"1.2": {Version: "1.2"},
		"1.2 (commit abc)": {Version: "1.2", Commit: "abc"}} {
		if g.String() != want {
			t.Errorf("got %q, want %q", g, want)
		}
	}
}
