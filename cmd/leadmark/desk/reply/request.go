package reply

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strconv"
	"strings"
)

// Decode reads the body of a request strictly: one object, no key that is not known.
func Decode(r *http.Request, v any) error {
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	err := d.Decode(v)
	if err == nil {
		if _, more := d.Token(); !errors.Is(more, io.EOF) {
			err = errors.New("there is more than one value")
		}
	}
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return Refused(http.StatusRequestEntityTooLarge, "that is too much at once",
			"pictures are copied into the folder, not sent to the page")
	case err != nil:
		return Refused(http.StatusBadRequest, fmt.Sprintf("the form cannot be read: %v", err), "load the page again")
	}
	return nil
}

// Number is a number of a query, nil where it is left out.
func Number(r *http.Request, name string) (*float64, error) {
	text := strings.TrimSpace(r.URL.Query().Get(name))
	if text == "" {
		return nil, nil
	}
	x, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || x-x != 0 { // not finite
		return nil, Refused(http.StatusUnprocessableEntity, name+" is no number",
			"write it with a point and without its unit")
	}
	return &x, nil
}
