// Package calibrate is the command that turns a folder of ruler frames into a rig's lag and spread:
// flags in, what can be wrong found before the long work, calib's answer, a report, and with
// --accept the rig's profile. The same command starts a run (--start), plans a first one
// (--goal-ms) and follows one while it is shot (--follow).
package calibrate
