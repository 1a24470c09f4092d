package rig

import (
	"encoding/json"
	"leadmark/fit/unit"
	"math"
	"reflect"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// Description is a profile in the units and under the keys of rig.toml, for printing as JSON or
// TOML. What is not stated is absent.
type Description struct {
	file rigFile
}

// Describe returns a profile as rig.toml writes it.
func Describe(p Profile) Description {
	f := rigFile{
		Camera: cameraFile{
			SensorMM: list(p.Camera.Sensor, 1e3), Shutter: text(p.Camera.Shutter), Sync: text(p.Camera.SyncOn),
			SyncS: some(p.Camera.Sync, 1), AmbientEV100: p.Camera.AmbientEV100,
		},
		Lens: lensFile{FocalMM: some(p.Lens.Focal, 1e3), ClosestMM: some(p.Lens.Closest, 1e3),
			FNumbers:         list(p.Lens.FNumber, 1),
			MaxMagnification: some(p.Lens.MaxMagnification, 1), PupilMagnification: some(p.Lens.PupilMagnification, 1)},
		Trigger: triggerFile{BeamMM: some(p.Trigger.Beam, 1e3), DelayMS: some(p.Trigger.Delay, 1e3),
			BeamClass: text(p.Trigger.Class), BurstHz: some(p.Trigger.Burst, 1)},
		Limits: limitsFile{MaxDropMM: some(p.Limits.MaxDrop, 1e3), MaxDelayMS: some(p.Limits.MaxDelay, 1e3),
			RecalibrateDays: some(p.Limits.RecalibrateDays, 1), DayEnergyJ: some(p.Limits.DayEnergy, 1)},
	}
	if p.Camera.Pixels != [2]int{} {
		f.Camera.Pixels = p.Camera.Pixels[:]
	}
	if p.Camera.ISO != 0 {
		f.Camera.ISO = &p.Camera.ISO
	}
	for _, h := range p.Flash {
		f.Flash = append(f.Flash, describeHead(h))
	}
	return Description{f}
}

func describeHead(h Head) flashFile {
	f := flashFile{
		Name: text(h.Name), Lights: text(string(h.Lights)), GuideNumberM: some(h.GuideNumber, 1),
		DistanceMM: some(h.Distance, 1e3), LossStops: some(h.Loss, 1), T01US: durationTable(h.T01),
		T05US:   durationTable(h.T05),
		EnergyJ: some(h.Energy, 1), RecycleS: some(h.Recycle, 1),
	}
	if h.Power != 0 {
		f.Power = text(PowerText(h.Power))
	}
	if h.Range != [2]float64{} {
		f.Powers = []string{PowerText(h.Range[0]), PowerText(h.Range[1])}
	}
	return f
}

// PowerText writes a share of full power as heads do, "1/64".
func PowerText(share float64) string {
	if n := math.Round(1 / share); n < 1e9 && math.Abs(n*share-1) < 1e-9 {
		return "1/" + strconv.FormatFloat(n, 'f', -1, 64)
	}
	return strconv.FormatFloat(share, 'g', -1, 64)
}

func durationTable(all []Duration) map[string]float64 {
	if all == nil {
		return nil
	}
	t := map[string]float64{}
	for _, d := range all {
		t[PowerText(d.Power)] = unit.Stated(d.Seconds * 1e6)
	}
	return t
}

// some is nil for a value that is not stated.
func some(x, scale float64) *float64 {
	if x == 0 {
		return nil
	}
	y := unit.Stated(x * scale)
	return &y
}

func list(x [2]float64, scale float64) []float64 {
	if x == [2]float64{} {
		return nil
	}
	return []float64{unit.Stated(x[0] * scale), unit.Stated(x[1] * scale)}
}

func text(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

// TOML writes the description as rig.toml.
func (d Description) TOML() ([]byte, error) { return toml.Marshal(d.file) }

// MarshalJSON writes the description with the keys of rig.toml.
func (d Description) MarshalJSON() ([]byte, error) { return json.Marshal(d.file) }

// Rows lists what a profile states as key and value, in the order of rig.toml, for a table.
func (p Profile) Rows() [][2]string {
	var rows [][2]string
	text, err := Describe(p).TOML()
	if err != nil {
		return nil
	}
	table := ""
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		key, value, pair := strings.Cut(line, " = ")
		switch {
		case pair:
			rows = append(rows, [2]string{bare(strings.TrimPrefix(table+"."+key, ".")), bare(value)})
		case strings.HasPrefix(line, "["):
			table = strings.Trim(line, "[]")
		}
	}
	return rows
}

// bare takes off what TOML needs and a person does not: quotes, and a point with nothing after it.
func bare(s string) string {
	return strings.TrimSuffix(strings.ReplaceAll(s, "'", ""), ".0")
}

// DescriptionKeys is the type whose fields are the keys that a Description is written with.
func DescriptionKeys() reflect.Type { return reflect.TypeFor[rigFile]() }
