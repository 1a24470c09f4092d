package reply

import (
	"encoding/json"
	"net/http"
)

// JSON writes a value as JSON.
func JSON(w http.ResponseWriter, code int, v any) {
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.WriteHeader(code)
	_ = json.NewEncoder(w).Encode(v) // the browser has gone: nobody is left to be told
}
