package reply

import (
	"net/http"

	"leadmark/calib/record"
)

// JSON writes a value as JSON.
func JSON(w http.ResponseWriter, code int, v any) {
	text, err := record.Line("the answer", v)
	if err != nil {
		code, text = http.StatusInternalServerError, nil
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.WriteHeader(code)
	_, _ = w.Write(text) // the browser has gone: nobody is left to be told
}
