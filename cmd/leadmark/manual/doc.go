// Package manual explains the program's commands: the help, the man pages made of the same texts,
// what a wrong command line may have meant, and the flags that stand in the place of keys of a
// file.
package manual
