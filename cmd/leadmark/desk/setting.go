package desk

import (
	"errors"
	"fmt"
	"net/http"

	"leadmark/cmd/leadmark/desk/live"
	"leadmark/cmd/leadmark/desk/reply"
)

// setting keeps how the next frames are shot; each then gets its line in shots.csv when it comes.
func (s *Server) setting(w http.ResponseWriter, r *http.Request) error {
	run, err := s.run(r.PathValue("run"))
	if err != nil {
		return err
	}
	var f live.Setting
	if err := reply.Decode(r, &f); err != nil {
		return err
	}
	if err := errors.Join(inRange("the height", f.DropMM, 20000, "mm"),
		inRange("the speed", f.SpeedMPS, 300, "m/s"), notBelow("the delay", f.DelayMS, 60000, "ms"),
		inRange("the goal", f.GoalMS, 1e6, "ms")); err != nil {
		return err
	}
	for _, name := range f.Also {
		if _, err := run.Frame(name); err != nil {
			return err
		}
	}
	if err := run.Set(r.Context(), f); err != nil {
		return err
	}
	reply.JSON(w, http.StatusOK, map[string]string{"done": "Noted for the next frames"})
	return nil
}

func inRange(what string, x *float64, most float64, unit string) error {
	if x != nil && !(*x > 0 && *x <= most) {
		return reply.Refused(http.StatusUnprocessableEntity,
			fmt.Sprintf("%s must be above 0 and at most %g %s", what, most, unit), "check the value and its unit")
	}
	return nil
}

func notBelow(what string, x *float64, most float64, unit string) error {
	if x != nil && !(*x >= 0 && *x <= most) {
		return reply.Refused(http.StatusUnprocessableEntity,
			fmt.Sprintf("%s must be from 0 to %g %s", what, most, unit), "check the value and its unit")
	}
	return nil
}
