package frame

import (
	"reflect"
	"testing"
)

func TestDifferences(t *testing.T) {
	same := Frame{Exposure: 0.005, FNumber: 11, ISO: 200, Focal: 0.1, Width: 6000, Height: 4000,
		Make: "Maker", Model: "Maker One"}
	with := func(name string, change func(*Frame)) Frame {
		f := same
		f.Name = name
		change(&f)
		return f
	}
	none := func(*Frame) {}
	if d := Differences([]Frame{with("a", none), with("b", none)}); d != nil {
		t.Errorf("equal frames differ: %+v", d)
	}
	if d := Differences(nil); d != nil {
		t.Errorf("no frames differ: %+v", d)
	}
	got := Differences([]Frame{
		with("a", func(f *Frame) { f.Exposure = 1.0 / 250 }),
		with("b", none),
		with("c", func(f *Frame) { f.Exposure = 0.00500001; f.FNumber = 0 }),
		with("d", func(f *Frame) { f.Width, f.Height = 4000, 6000; f.Model = "Two" }),
		with("e", func(f *Frame) { f.ISO = 100; f.Focal = 0.0545 }),
	})
	want := []Difference{
		{"exposure time", []Group{{"1/200 s", []string{"b", "c", "d", "e"}},
			{"1/250 s", []string{"a"}}}},
		{"f-number", []Group{{"f/11", []string{"a", "b", "d", "e"}},
			{"not stated", []string{"c"}}}},
		{"ISO", []Group{{"ISO 200", []string{"a", "b", "c", "d"}}, {"ISO 100", []string{"e"}}}},
		{"focal length", []Group{{"100 mm", []string{"a", "b", "c", "d"}},
			{"54.5 mm", []string{"e"}}}},
		{"size", []Group{{"6000 x 4000 px", []string{"a", "b", "c", "e"}},
			{"4000 x 6000 px", []string{"d"}}}},
		{"body", []Group{{"Maker One", []string{"a", "b", "c", "e"}},
			{"Maker Two", []string{"d"}}}},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
}

func TestExposureText(t *testing.T) {
	for s, want := range map[float64]string{
		1.0 / 200: "1/200 s", 1.0 / 8000: "1/8000 s", 0.5: "1/2 s", 0.4: "0.4 s", 1: "1 s",
		1.3: "1.3 s", 30: "30 s", 0: "not stated", 1.0 / 3: "1/3 s",
	} {
		if got := exposureText(s); got != want {
			t.Errorf("%v: %q, want %q", s, got, want)
		}
	}
}
