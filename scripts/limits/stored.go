package main

import (
	"encoding/json"
	"os"
	"path/filepath"
)

// stored is what a working folder says of the copy that was built in it.
type stored struct {
	Numbers []storedNumber
	Sites   []site
}

type storedNumber struct {
	Room, At, In, Text string
	Weight             bool
}

func (t *instrumented) stored() stored {
	s := stored{Sites: t.sites}
	for _, n := range t.numbers {
		s.Numbers = append(s.Numbers, storedNumber{n.room, n.place(), n.in, n.what(), n.weight})
	}
	return s
}

func (s stored) write(work string) error {
	data, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(work, "limits.json"), data, 0o666)
}

func readStored(work string) (s stored, err error) {
	data, err := os.ReadFile(filepath.Join(work, "limits.json"))
	if err != nil {
		return s, err
	}
	return s, json.Unmarshal(data, &s)
}
