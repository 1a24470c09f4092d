// Package command is what all commands share: an Env, which is the world outside as a command sees
// it, and what their arguments mean: a folder of frames, a run by its run.toml.
package command
