package vision

import (
	"os"
	"strconv"
	"strings"
)

// peakMemory is the most memory that the process held so far, bytes (VmHWM of proc(5)); 0 where the
// system does not tell.
func peakMemory() int {
	text, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	_, rest, _ := strings.Cut(string(text), "VmHWM:")
	kb, err := strconv.Atoi(strings.Fields(rest + " 0")[0])
	if err != nil {
		return 0
	}
	return kb << 10
}
