package record

import (
	"leadmark/calib/provenance"
	"leadmark/calib/words"
	"leadmark/fit/unit"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// PictureSchema names the format of what a single picture shows.
const PictureSchema = "leadmark/picture/1"

// Picture is what one picture of a ruler shows, one JSON line in the units of the file formats.
type Picture struct {
	Schema       string            `json:"schema"`
	File         string            `json:"file"`
	Status       string            `json:"status"`
	Reason       string            `json:"reason"`
	Warnings     []string          `json:"warnings"`
	GraduationMM float64           `json:"graduation_mm,omitempty"`
	PxPerMM      float64           `json:"px_per_mm,omitempty"`
	FrontPX      *[2]float64       `json:"front_px"`
	Graduations  []GraduationEntry `json:"graduations"`
	Absolute     bool              `json:"absolute"`
	OutlinePX    [][2]float64      `json:"outline_px,omitempty"`
	UPX          float64           `json:"u_px,omitempty"`
	provenance.Made
}

// GraduationEntry is a line of the ruler: what it stands for, and where it is.
type GraduationEntry struct {
	ReadingMM float64    `json:"reading_mm"`
	PX        [2]float64 `json:"px"`
}

// NewPicture makes the document of the picture at path, whose file is f, from its reading.
func NewPicture(path string, f frame.Frame, r ruler.Reading, settings map[string]string) Picture {
	p := Picture{Schema: PictureSchema, Made: provenance.Of(f.Digest, settings), File: path, Status: string(r.Status),
		Reason: words.Reason(r.Reason), Warnings: []string{}, Graduations: []GraduationEntry{}}
	for _, w := range r.Warnings {
		p.Warnings = append(p.Warnings, words.Reason(w))
	}
	if r.Status != ruler.StatusRead {
		return p
	}
	p.GraduationMM, p.Absolute = unit.Fixed(r.Graduation*1e3, 4), r.Absolute
	p.PxPerMM, p.UPX = unit.Fixed(r.PxPerM*1e-3, 4), unit.Fixed(r.U, 3)
	if r.Front != nil {
		p.FrontPX = new(pixel(r.Front.At))
	}
	for g := range r.Graduations.All() {
		p.Graduations = append(p.Graduations, GraduationEntry{unit.Fixed(g.Reading*1e3, 4), pixel(g.At)})
	}
	for _, q := range r.Outline {
		p.OutlinePX = append(p.OutlinePX, pixel(q))
	}
	return p
}
