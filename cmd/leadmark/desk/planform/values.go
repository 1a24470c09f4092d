package planform

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"leadmark/calib/input"
	"leadmark/calib/plan/subject"
	"leadmark/cmd/leadmark/desk/reply"
)

// subjectValues are the keys of subject.toml that a page states. A course would name a file, and
// stays out.
func subjectValues(q url.Values) (input.Overrides, error) {
	var o input.Overrides
	for _, k := range subject.Settings() {
		text := strings.TrimSpace(q.Get(k.Key))
		if text == "" {
			continue
		}
		if k.Key == "course" || len(text) > 200 {
			return o, reply.Refused(http.StatusUnprocessableEntity, k.Key+" cannot be given here",
				"write it in the subject's file")
		}
		o.Set(k.Key, text)
	}
	return o, nil
}

// FieldText is a value as a field of the form has it: without its unit.
func FieldText(key, text string) string {
	words := strings.Fields(text)
	switch {
	case key == "exit_mm" && len(words) == 4: // "10 x 8 mm"
		return "[" + words[0] + ", " + words[2] + "]"
	case len(words) == 2:
		return words[0]
	}
	return text
}

// SubjectText writes values as subject.toml.
func SubjectText(values map[string]string) ([]byte, error) {
	var b strings.Builder
	for _, k := range subject.Settings() {
		text := strings.TrimSpace(values[k.Key])
		if text == "" || k.Key == "course" {
			continue
		}
		if _, err := input.ParseNumber(text); err != nil && !strings.HasPrefix(text, "[") {
			if strings.ContainsAny(text, "\"\\\r\n") || len(text) > 200 {
				return nil, reply.Refused(http.StatusUnprocessableEntity, k.Key+" cannot be written",
					"use plain letters")
			}
			text = `"` + text + `"`
		}
		fmt.Fprintf(&b, "%s = %s\n", k.Key, text)
	}
	return []byte(b.String()), nil
}
