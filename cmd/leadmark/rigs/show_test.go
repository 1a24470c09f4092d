package rigs

import (
	"bytes"
	"os"
	"testing"
	"time"

	"leadmark/calib"
	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/command"
	"leadmark/fit"
)

func TestRigForPeople(t *testing.T) {
	p, err := rig.Parse("rig.toml", []byte("[camera]\nsensor_mm = [23.5, 15.6]\n[[flash]]\nname = "+
		"\"key\"\npower = \"1/64\"\nt01_us = { \"1/64\" = 45 }\n[limits]\nrecalibrate_days = 30\n"))
	if err != nil {
		t.Fatal(err)
	}
	p.Name, p.Dir = "greenhouse", "rigs/greenhouse"
	night := calib.Result{Fit: fit.Result{
		Lag: &fit.Estimate{Value: 0.05231, U: 0.00018, DF: 20,
			Interval95: fit.Interval{Low: 0.05194, High: 0.05268}},
		Spread: &fit.Estimate{Value: 0.0008, U: 0.0001, DF: 20, Interval95: fit.Interval{Low: 0.00062, High: 0.0011}},
	}}
	var out bytes.Buffer
	accepted := time.Date(2026, 5, 3, 22, 15, 0, 0, time.UTC)
	env := &command.Env{Stdout: &out, Now: func() time.Time { return accepted.AddDate(0, 0, 40) }}
	h := rig.History{Entries: []rig.Entry{rig.NewEntry(night, p, accepted, "first night")},
		Damaged: []rig.LineFault{{Line: 2, What: "the last line was never finished"}}}
	if err := printRig(env, p, h); err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile("testdata/rig.txt")
	if err != nil {
		t.Fatal(err)
	}
	if got := out.String(); got != string(want) {
		t.Errorf("it prints\n%s\nnot\n%s", got, want)
	}
}
