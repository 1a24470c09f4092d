// Leadmark calibrates beam-triggered flash rigs from photographs of a ruler: how long after the
// beam is broken the flash fires, and how much that varies from shot to shot.
//
//	leadmark calibrate RUN   frames of a ruler -> lag, spread, report, rig profile
//	leadmark read PICTURE    what one picture of a ruler says
//	leadmark ruler           the coded ruler and slates, to print
//	leadmark plan            where the subject will be; framing, focus and light for it
//	leadmark rig             profiles: new, show, history, compare, restore, list
//	leadmark demo DIR        an invented run to try it all on
//
// Each command is one file, flags in, one call, output out; those that take more are packages of
// their own (calibrate, check, planning, rigs, desk), given what commands share (command.Env). The
// exit status is 0 when there is a result, 1 when none could be had and 2 when the command line or
// a file was wrong.
package main
