// Package output is what commands write to the disk: where it goes, that nothing of a person's is
// overwritten, and what was written when a command is broken off.
//
// Every step that writes goes through a Ledger, which says it in a person's words, of a Kind each;
// StoppedError is what a command that was told to stop ends with. A Folder of results is new and
// appears whole, or holds earlier ones.
package output
