// Package check is the command that holds real frames against the plan: the shoot planned anew, its
// frames looked at, and what was asked for written, sidecars and cut-outs among it. It reads
// pictures and never changes one.
package check
