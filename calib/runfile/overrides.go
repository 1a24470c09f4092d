package runfile

import (
	"reflect"

	"leadmark/calib/input"
)

// Settings lists the keys of run.toml in the order of the file.
func Settings() []input.Setting { return input.Settings(reflect.TypeFor[File]()) }

// Overrides are what the command line says of the run in the place of run.toml.
type Overrides struct {
	input.Overrides
	// ByHand says that the advances were read elsewhere: the pictures, the ruler and the way it
	// travels need not be described, and frames need not be in the folder.
	ByHand bool
	// Coming says that frames may still be on their way: one that shots.csv lists need not be there
	// yet.
	Coming bool
}

// table is a CSV file of shots.
type table struct{ *input.Table }

func readTable(name string, text []byte, known, need []string) (table, error) {
	t, err := input.ReadTable(name, text, known, need)
	return table{t}, err
}

// The ranges of the conditions of a shot, in the units of the file format.
func dropRange() input.Bounds  { return input.Above(0, 20000) }
func speedRange() input.Bounds { return input.Above(0, 300) }
func delayRange() input.Bounds { return input.Between(0, 60000) }
