package rig

import (
	"strings"
	"time"

	"leadmark/calib/input"
	"leadmark/calib/provenance"
	"leadmark/fit/unit"
)

// Schemas of what the program prints of profiles.
const (
	ShownSchema = "leadmark/rig/1"
	ListSchema  = "leadmark/rigs/1"
)

// ListDocument are the profiles there are.
type ListDocument struct {
	Schema string `json:"schema"`
	provenance.Made
	Root string   `json:"root"`
	Rigs []string `json:"rigs"`
}

// NewListDocument makes the document of the profiles of a folder.
func NewListDocument(root string, names []string) ListDocument {
	made := provenance.Of(input.Digest([]byte(strings.Join(names, "\n"))), nil)
	return ListDocument{ListSchema, made, root, append([]string{}, names...)}
}

// ShownDocument is a profile: the description in the units of rig.toml, and what holds of its
// calibrations.
type ShownDocument struct {
	Schema string `json:"schema"`
	provenance.Made
	Name         string      `json:"name"`
	Dir          string      `json:"dir"`
	Rig          Description `json:"rig"`
	Calibrations int         `json:"calibrations"`
	Last         *Entry      `json:"last,omitempty"`
	InForce      *ShownForce `json:"in_force,omitempty"`
}

// ShownForce is the calibration that holds, and whether it has grown too old.
type ShownForce struct {
	Number         int     `json:"number"`
	Why            string  `json:"why"`
	AgeDays        float64 `json:"age_days"`
	RecalibrateDue bool    `json:"recalibrate_due"`
	Calibration    Entry   `json:"calibration"`
}

// NewShownDocument makes the document of a profile at a time.
func NewShownDocument(p Profile, h History, now time.Time) ShownDocument {
	d := ShownDocument{Schema: ShownSchema, Made: provenance.Of(input.Digest([]byte(p.Digest), []byte(h.Digest)), nil),
		Name: p.Name, Dir: p.Dir, Rig: Describe(p), Calibrations: len(h.Entries)}
	if n := len(h.Entries); n > 0 {
		d.Last = &h.Entries[n-1]
	}
	if f, ok := h.InForce(); ok {
		age, due := p.Age(f.Entry, now)
		d.InForce = &ShownForce{f.Number, f.Why(), unit.Fixed(age, 1), due, f.Entry}
	}
	return d
}
