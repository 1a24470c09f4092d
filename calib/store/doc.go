// Package store writes the files that must not be lost: profiles, corrections, learned subjects,
// what a person wrote with the program's help. Whatever happens, a full disk, a kill, a power cut,
// a file is afterwards as it was or as it was meant to be.
//
// Replace puts a file in the place of another, Create makes one that is not there yet, Folder a
// whole folder, Append adds a line to a file of lines. All return when both the content and the
// name are on the disk: new content goes to a hidden file beside, is synced, gets its name in one
// step, and the folder is synced. Lock keeps other processes away meanwhile.
//
// The hidden file is a part: .NAME.leadmark-RANDOM.part. Nobody can guess its name, it is opened
// only if it is not there, and no program ever opens another's. It is locked while a program is at
// it; one that nobody is at is a leftover of a killed program, and whoever writes into that folder
// next takes it away.
//
// Errors name the file, what is wrong with the disk, and what to do; the file is then as it was.
//
// A Disk does the single steps. System is the computer's; tests give one that fails at a step or
// forgets what was not synced.
package store
