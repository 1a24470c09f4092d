package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
)

// classes are those of package crops, and those of package studies.
var (
	cropClasses = []string{"plain", "lines", "covered", "glare", "dark", "worn", "units", "steel", "clear", "tilted",
		"moving", "noisy", "endless", "mixed"}
	studyClasses = []string{"clean", "plain", "tilted", "blurred", "dim", "hidden", "shadow", "small", "large"}
)

// frames names the frames of a pass, n of each class of package crops and in proportion of the others:
// frames made of photographs, pictures without a ruler, broken ones, of the coded ruler, of two
// flashes, those of the older study, whole runs, and the photographs of real rulers.
func frames(photographs string, n int) (list []string, err error) {
	for _, dir := range []string{"rulers", "rulers-more"} {
		data, err := os.ReadFile(filepath.Join(photographs, dir, "truth.json"))
		if err != nil {
			return nil, err
		}
		var truth struct{ Images []struct{ File string } }
		if err := json.Unmarshal(data, &truth); err != nil {
			return nil, err
		}
		for _, im := range truth.Images {
			list = append(list, "real/"+dir+"/"+im.File)
		}
	}
	add := func(kind string, n int) {
		for i := range max(1, n) {
			list = append(list, fmt.Sprintf("%s/%d", kind, i))
		}
	}
	add("broken", n/2)
	add("knock", n/15)
	add("run", n/6)
	add("code", 2*n/3)
	add("twin", n/3)
	add("photo", 5*n/4)
	add("none", 5*n)
	for _, class := range studyClasses {
		add("seen/"+class, n/8)
	}
	for _, class := range cropClasses {
		add(class, n)
	}
	return list, nil
}
