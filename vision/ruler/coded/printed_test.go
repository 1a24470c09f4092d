package coded

import (
	"crypto/sha256"
	"encoding/hex"
	"testing"
)

// Rulers that were printed are to be read for ever: cells are what they were when the first was.
// Drawn rulers have their cells from here too, so no picture would show a change. The first twelve
// are by hand, of 4, 9 and a as binary numbers; the digest is Python's, of all as 0 and 1.
func TestPrintedRulersKeepTheirCells(t *testing.T) {
	var tones []byte
	for i := range Cells {
		tone := byte('0')
		if Dark(i) {
			tone = '1'
		}
		tones = append(tones, tone)
	}
	if got := string(tones[:12]); got != "010010011010" {
		t.Errorf("the first cells are %s", got)
	}
	sum := sha256.Sum256(tones)
	if got := hex.EncodeToString(sum[:]); got != "e52efc522e8fc1d0b83f99e5520d2a4285b272cef4b3ccd71039c8dc65cc62ed" {
		t.Errorf("cells have changed: digest %s", got)
	}
	if Dark(-1) || Dark(Cells) {
		t.Error("there are cells beyond the code")
	}
}
