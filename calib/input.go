package calib

import (
	"reflect"

	"leadmark/calib/input"
)

// InputError says that a file, a folder or a flag is wrong: what, where, and what to do.
type InputError = input.Error

// NoResultError says that the input was in order but no result could be had from it.
type NoResultError = input.NoResult

// Setting is one key of run.toml that a flag can stand in for.
type Setting = input.Setting

// Settings lists the keys of run.toml in the order of the file.
func Settings() []Setting { return input.Settings(reflect.TypeFor[RunFile]()) }

// Overrides are what the command line says of the run in the place of run.toml.
type Overrides struct {
	input.Overrides
	// ByHand says that the advances were read elsewhere: the pictures, the ruler and the way it
	// travels need not be described, and frames need not be in the folder.
	ByHand bool
	// Coming says that frames may still be on their way: one that shots.csv lists need not be there yet.
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
