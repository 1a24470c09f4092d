package record

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// JSON writes a document as text: indented, its names and notes as they are, the same bytes for the
// same document. what names it where it cannot be written.
func JSON(what string, document any) ([]byte, error) {
	return encoded(what, document, "  ")
}

// Line writes a document as one line of text, else like JSON.
func Line(what string, document any) ([]byte, error) { return encoded(what, document, "") }

func encoded(what string, document any, indent string) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", indent)
	if err := e.Encode(document); err != nil {
		return nil, fmt.Errorf("writing %s as JSON: %w", what, err)
	}
	return b.Bytes(), nil
}
