package record

import (
	"encoding/json"
	"fmt"

	"leadmark/calib"
	"leadmark/calib/store"
)

// NewDocument turns a result into the units and the roundings of result.json.
func NewDocument(r calib.Result) Document {
	d := Document{Made: madeOf(r.RunSHA256, r.Run), Answer: answerOf(r), Frames: []FrameEntry{},
		Remarks: remarksOf(r)}
	for _, f := range r.Frames {
		d.Frames = append(d.Frames, frameEntry(f))
	}
	return d
}

// Encode writes a result as result.json, indented, the same bytes for the same result.
func Encode(r calib.Result) ([]byte, error) { return NewDocument(r).Encode() }

// Encode writes the document as result.json.
func (d Document) Encode() ([]byte, error) { return JSON("the result", d) }

// Decode reads a result.json back. It refuses text of another schema.
func Decode(text []byte) (Document, error) {
	var stated struct {
		Schema string `json:"schema"`
	}
	if err := json.Unmarshal(text, &stated); err != nil {
		return Document{}, fmt.Errorf("not a result of this program: %w", err)
	}
	if err := store.CheckSchema(stated.Schema, Schema); err != nil {
		return Document{}, fmt.Errorf("not a result that can be read: %w", err)
	}
	var d Document
	if err := json.Unmarshal(text, &d); err != nil {
		return Document{}, fmt.Errorf("not a result of this program: %w", err)
	}
	return d, nil
}
