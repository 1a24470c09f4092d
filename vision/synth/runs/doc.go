// Package runs draws whole calibration runs: frames, run.toml, shots.csv and truth.json. The tests
// use it, and so does the demonstration run. All of it is invented data.
//
// A RunSpec is a whole run: how the ruler moves, the lag and spread to be found, what goes wrong.
// WriteRun draws it to a folder and returns RunTruth, the content of truth.json. DemoRun and
// TwelveRuns give ready specifications. The photographs are drawn by package photo.
package runs
