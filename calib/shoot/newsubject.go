package shoot

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/pelletier/go-toml/v2"

	"leadmark/calib/input"
	"leadmark/calib/plan/subject"
	"leadmark/calib/store"
	"leadmark/fit/unit"
)

// NewSubject is the text of a subject's file with the speed and heading that a shoot taught. What
// stood there before, and where that came from, is kept in [sources] as the value's history.
func NewSubject(name string, old []byte, r Result, day time.Time) ([]byte, error) {
	var f subject.File
	if _, err := input.DecodeStrict(name, old, &f); err != nil {
		return nil, err
	}
	if r.Learned == nil {
		return nil, &input.NoResult{What: "nothing was learned: " + r.NotLearned,
			Hint: "no subject file was written"}
	}
	l := *r.Learned
	if f.Sources == nil {
		f.Sources = map[string]string{}
	}
	from := fmt.Sprintf("%d animals in %s, %s", l.N, filepath.Base(r.Setup.Dir),
		day.Format(time.DateOnly))
	replace := func(key string, to **float64, x float64, note string) {
		x = unit.Significant(x, 4)
		f.Sources[key] = note + " learned from " + from + history(*to, f.Sources[key])
		*to = &x
	}
	replace("speed_mps", &f.SpeedMPS, l.Speed, fmt.Sprintf("%.3g to %.3g m/s (95 %%)", l.Speed95[0],
		l.Speed95[1]))
	replace("speed_sd_mps", &f.SpeedSDMPS, l.SpeedSD, "standard deviation")
	set := func(to **float64, x float64) { x = unit.Significant(x, 3); *to = &x }
	set(&f.SpeedUMPS, l.Known.U)
	set(&f.SpeedDF, l.Known.DF)
	if h := l.Heading; h != nil {
		const deg = 180 / math.Pi
		set(&f.ElevationUDeg, h.Known.U*deg)
		set(&f.ElevationDF, h.Known.DF)
		replace("elevation_deg", &f.ElevationDeg, h.Elevation*deg,
			fmt.Sprintf("%.3g to %.3g degrees (95 %%)", h.Elevation95[0]*deg, h.Elevation95[1]*deg))
		replace("elevation_sd_deg", &f.ElevationSDDeg, h.SD*deg, "standard deviation")
	}
	text, err := toml.Marshal(f)
	if err != nil {
		return nil, fmt.Errorf("writing the subject: %w", err)
	}
	return append([]byte("# Written by leadmark check --learn from "+filepath.Base(name)+", which is as it was.\n"),
		text...), nil
}

// longestHistory bounds what is kept of the values before, in bytes.
const longestHistory = 600

func history(value *float64, source string) string {
	if value == nil {
		return ""
	}
	h := "; before: " + strconv.FormatFloat(*value, 'g', -1, 64)
	if source != "" {
		h += ", " + source
	}
	if len(h) > longestHistory {
		h = strings.ToValidUTF8(h[:longestHistory], "") + "..."
	}
	return h
}

// WriteSubject writes a new subject file beside the old one, under a name that is free, whole or
// not at all, and returns that name.
func WriteSubject(ctx context.Context, old string, text []byte) (string, error) {
	return writeSubject(ctx, store.System(), old, text)
}

func writeSubject(ctx context.Context, d store.Disk, old string, text []byte) (path string,
	err error) {
	unlock, err := store.Lock(ctx, filepath.Dir(old))
	if err != nil {
		return "", err
	}
	defer func() { err = errors.Join(err, unlock()) }()
	stem := strings.TrimSuffix(old, filepath.Ext(old))
	for k := 1; k < 1000; k++ {
		path := stem + "-learned.toml"
		if k > 1 {
			path = fmt.Sprintf("%s-learned-%d.toml", stem, k)
		}
		made, err := store.Create(d, path, text)
		if made || err != nil && !errors.Is(err, store.ErrFaster) {
			return path, err
		}
	}
	return "", &input.Error{File: stem, What: "has a thousand learned files already",
		Hint: "move some away"}
}
