// Package design says what to shoot next so that a rig's lag becomes known as well as wanted.
//
// A [Goal] is an uncertainty to reach, with what the rig allows; [Plan] makes of a run and a goal a
// [Schedule], whose batches are the settings to shoot and how often. What shots to come would tell
// is worked out by fit on the model as fitted, or as assumed before anything is shot.
package design
